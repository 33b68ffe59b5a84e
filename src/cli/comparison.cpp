// SPDX-License-Identifier: GPL-3.0-or-later
#include "comparison.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "arguments.hpp"
#include "drawing.hpp"
#include "grainwright/error.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "target.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

constexpr std::size_t most_builds = 4;  // a pen for each
constexpr std::size_t moments = 241;

constexpr std::string_view compared_model =
    "Transient model for each; peak pressure and mass flux are the highest of any model. Pressures "
    "are absolute.";

struct Build {
  std::string letter;  ///< "A"
  std::string file;
  Job job;
  Findings found;
};

std::vector<Build> builds_of(const Arguments& arguments, std::optional<UnitSystem> units) {
  const std::vector<std::string>& files = arguments.operands();
  if (files.size() < 2 || files.size() > most_builds) {
    throw InputError("--compare", counted(std::ssize(files), "job file"), "two to four job files");
  }
  std::vector<Build> builds;
  for (const std::string& file : files) {
    Job job = read_job(file);
    const UnitSystem told = units.value_or(job.units);
    Findings found = findings_of(job, told, Depth::figures);
    const char letter = static_cast<char>('A' + builds.size());
    builds.push_back({std::string(1, letter), file, std::move(job), std::move(found)});
  }
  return builds;
}

std::string name_of(const Build& build) {
  return build.job.title.empty() ? build.file : build.job.title;
}

// ---------------------------------------------------------------------------------------- numbers

struct Row {
  std::string_view name;
  Dimension dimension;
  double Summary::*value;
};
constexpr Row rows[] = {{"total impulse", Dimension::impulse, &Summary::total_impulse},
                        {"burn time", Dimension::time, &Summary::burn_time},
                        {"thrust at lighting", Dimension::force, &Summary::initial_thrust},
                        {"mean thrust", Dimension::force, &Summary::mean_thrust},
                        {"peak thrust", Dimension::force, &Summary::peak_thrust},
                        {"peak / mean thrust", Dimension::ratio, &Summary::neutrality},
                        {"peak pressure", Dimension::pressure, &Summary::peak_pressure},
                        {"propellant", Dimension::mass, &Summary::propellant_mass},
                        {"specific impulse", Dimension::time, &Summary::specific_impulse},
                        {"port / throat area", Dimension::ratio, &Summary::port_to_throat}};

template <typename Cell>
std::vector<std::string> row_of(std::string name, const std::vector<Build>& builds, Cell cell) {
  std::vector<std::string> cells = {std::move(name)};
  for (const Build& build : builds) cells.push_back(cell(build));
  return cells;
}

Table numbers_of(const std::vector<Build>& builds, UnitSystem units) {
  Table table{.align = "l", .head = {""}};
  table.align.append(builds.size(), 'r');
  for (const Build& build : builds) table.head.push_back(build.letter);
  table.rows.push_back(row_of("segments", builds, [](const Build& build) {
    return std::to_string(build.job.grain.segment_count());
  }));
  table.rows.push_back(row_of("throat", builds, [&](const Build& build) {
    return show(build.job.nozzle->throat_diameter, Dimension::length, units, 6);
  }));
  for (const Row& row : rows) {
    table.rows.push_back(row_of(std::string(row.name), builds, [&](const Build& build) {
      return show(build.found.prediction.judged().*row.value, row.dimension, units);
    }));
  }
  table.rows.push_back(row_of("letter class", builds, [](const Build& build) {
    return build.found.firing().summary.letter_class;
  }));
  table.rows.push_back(row_of("misfit of its own wish", builds, [](const Build& build) {
    return build.found.misfit ? fmt::format("{:.4f}", *build.found.misfit) : std::string("no wish");
  }));
  table.rows.push_back(row_of("what gives first, times its load", builds, [](const Build& build) {
    return build.found.margins ? fmt::format("{:.2f}", build.found.margins->ratio())
                               : std::string("not judged");
  }));
  if (std::ranges::any_of(builds,
                          [](const Build& build) { return build.found.flight.has_value(); })) {
    table.rows.push_back(row_of("speed off the rail", builds, [&](const Build& build) {
      return build.found.flight ? show(build.found.flight->rail_exit_speed, Dimension::speed, units)
                                : std::string("no airframe");
    }));
    table.rows.push_back(row_of("apogee", builds, [&](const Build& build) {
      return build.found.flight ? show(build.found.flight->apogee, Dimension::distance, units)
                                : std::string("no airframe");
    }));
  }
  table.rows.push_back(row_of("as its job asks", builds, [](const Build& build) {
    return std::string(build.found.as_asked() ? "yes" : "NO");
  }));
  return table;
}

/// Who leads in what, in one sentence.
std::string verdict_of(const std::vector<Build>& builds) {
  using Figure = double (*)(const Build&);
  constexpr std::pair<std::string_view, Figure> praises[] = {
      {"gives the most impulse",
       [](const Build& build) { return build.found.firing().summary.total_impulse; }},
      {"pushes hardest at lighting",
       [](const Build& build) { return build.found.firing().summary.initial_thrust; }},
      {"has the lowest peak pressure",
       [](const Build& build) { return -build.found.prediction.judged().peak_pressure; }}};
  std::string words;
  for (const Build& build : builds) {
    std::string own;
    for (const auto& [praise, figure] : praises) {
      if (&*std::ranges::max_element(builds, {}, figure) != &build) continue;
      own += fmt::format("{}{}", own.empty() ? "" : ", ", praise);
    }
    if (!own.empty()) words += fmt::format("{} {}; ", build.letter, own);
  }
  std::string broken;
  for (const Build& build : builds) {
    if (!build.found.as_asked()) broken += (broken.empty() ? "" : ", ") + build.letter;
  }
  if (broken.empty()) return words + "all keep what their jobs ask.";
  return fmt::format("{}NOT as its job asks: {}.", words, broken);
}

// ------------------------------------------------------------------------------------------ curves

std::vector<double> common_times(const std::vector<Build>& builds) {
  double end = 0;
  for (const Build& build : builds) end = std::max(end, build.found.firing().curve.time.back());
  std::vector<double> times;
  for (std::size_t i = 0; i < moments; ++i) {
    times.push_back(end * static_cast<double>(i) / static_cast<double>(moments - 1));
  }
  return times;
}

Chart overlaid(const std::vector<Build>& builds, std::string id, std::string title,
               Dimension dimension, std::vector<double> Curve::*values) {
  Chart chart{.id = std::move(id),
              .title = std::move(title),
              .dimension = dimension,
              .time = common_times(builds),
              .traces = {}};
  for (const Build& build : builds) {
    const Curve& curve = build.found.firing().curve;
    chart.traces.push_back({build.letter, resampled(curve.time, curve.*values, chart.time),
                            static_cast<Pen>(chart.traces.size())});
  }
  return chart;
}

Report report_of(const std::vector<Build>& builds, UnitSystem units) {
  std::string title;
  for (const Build& build : builds) {
    title += fmt::format("{}{}: {}", title.empty() ? "" : "; ", build.letter, name_of(build));
  }
  const bool as_asked =
      std::ranges::all_of(builds, [](const Build& build) { return build.found.as_asked(); });
  Report report{.kind = "Builds side by side, a prediction",
                .title = title,
                .file = "",
                .verdict = verdict_of(builds),
                .as_asked = as_asked,
                .figures = {},
                .motor = {},
                .burn = {},
                .first = overlaid(builds, "thrust", "Thrust", Dimension::force, &Curve::thrust),
                .chapters = {},
                .job_text = "",
                .units = units};
  const Table numbers = numbers_of(builds, units);
  report.chapters.push_back(
      {"numbers", "Numbers", {DataTable{"", numbers.align, numbers.head, numbers.rows}}});
  Chapter motors{"motors", "Motors, each to its own scale", {}};
  for (const Build& build : builds) {
    motors.blocks.push_back(
        Drawing{{motor_of(build.job), build.job.casing, build.job.shell, units}, build.letter});
  }
  report.chapters.push_back(motors);
  report.chapters.push_back(
      {"curves",
       "Pressure and burning area",
       {overlaid(builds, "pressure", "Chamber pressure", Dimension::pressure, &Curve::pressure),
        overlaid(builds, "area", "Burning area", Dimension::area, &Curve::burning_area)}});
  report.chapters.push_back(
      {"limits-of-the-model", "Limits of the model", {Paragraph{std::string(compared_model)}}});
  report.chapters.push_back(
      {"cautions", "Before anything else", {Paragraph{std::string(cautions)}}});
  return report;
}

std::string text_of(const std::vector<Build>& builds, UnitSystem units,
                    const std::optional<std::string>& page) {
  Page text;
  text.heading("Builds side by side");
  for (const Build& build : builds) {
    text.item(fmt::format("{}  ", build.letter),
              fmt::format("{} ({})", name_of(build), build.file));
  }
  text.gap();
  text.paragraph(verdict_of(builds));
  text.gap();
  text.table(numbers_of(builds, units));
  text.gap();
  text.paragraph(compared_model);
  const Chart thrust = overlaid(builds, "thrust", "thrust", Dimension::force, &Curve::thrust);
  std::vector<Series> lines;
  for (const ChartLine& trace : thrust.traces) {
    lines.push_back({trace.name, Dimension::force, trace.values});
  }
  text.gap();
  text.drawing(drawn_lines({"time", Dimension::time, thrust.time}, "thrust", lines, units));
  if (page) text.heading("Page written: " + *page);
  text.heading(short_caution);
  text.next("grainwright report on the one you choose");
  return text.text();
}

Json json_of(const std::vector<Build>& builds) {
  Json list = Json::array();
  for (const Build& build : builds) {
    list.push_back({{"letter", build.letter},
                    {"file", build.file},
                    {"title", build.job.title},
                    {"as_asked", build.found.as_asked()},
                    {"segments", cli::json_of(build.job.grain)},
                    {"throat_m", build.job.nozzle->throat_diameter},
                    {"summary", cli::json_of(build.found.firing().summary)},
                    {"curve", cli::json_of(columns_of(build.found.firing()))}});
  }
  return {{"builds", list}};
}

}  // namespace

Answer compare(const Arguments& arguments) {
  for (std::string option : {"save", "pick", "threads"}) {
    if (arguments.has(option)) {
      throw InputError("--" + option, "given with --compare", "one of the two");
    }
  }
  const auto page = target_of(arguments, "out");
  const std::vector<Build> builds = builds_of(arguments, arguments.units());
  const UnitSystem units = arguments.units().value_or(builds.front().job.units);
  if (page) write_whole_file(*page, html_of(report_of(builds, units)), arguments.has("force"));
  if (arguments.format() == Format::json) return {written(json_of(builds))};
  return {text_of(builds, units, page)};
}

}  // namespace grainwright::cli
