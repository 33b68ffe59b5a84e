// SPDX-License-Identifier: GPL-3.0-or-later
#include "comparison.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "arguments.hpp"
#include "drawing.hpp"
#include "grainwright/error.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "target.hpp"
#include "verdict_page.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

constexpr std::size_t most_builds = 4;  // a pen for each
constexpr std::size_t moments = 241;

constexpr std::string_view compared_model =
    "Transient model for each; the peak pressure is the highest of all models. Pressures "
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

constexpr const char* rows[] = {"total_impulse_Ns",   "burn_time_s",        "initial_thrust_N",
                                "mean_thrust_N",      "peak_thrust_N",      "peak_to_mean_thrust",
                                "propellant_mass_kg", "specific_impulse_s", "port_to_throat"};

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
  for (const char* key : rows) {
    const FigureRow& row = figure_row(key);
    table.rows.push_back(row_of(std::string(row.label), builds, [&](const Build& build) {
      return show(build.found.firing().summary.*row.fired, row.dimension, units);
    }));
  }
  table.rows.push_back(row_of("peak pressure, head end", builds, [&](const Build& build) {
    return show(build.found.found.peak_pressure.value, Dimension::pressure, units);
  }));
  table.rows.push_back(row_of("letter class", builds, [](const Build& build) {
    return build.found.firing().summary.letter_class;
  }));
  table.rows.push_back(row_of("misfit of its own wish", builds, [](const Build& build) {
    return build.found.misfit ? fmt::format("{:.4f}", *build.found.misfit) : std::string("no wish");
  }));
  table.rows.push_back(row_of("weakest part, times its load", builds, [](const Build& build) {
    const auto& margins = build.found.found.margins;
    return margins ? fmt::format("{:.2f}", margins->ratio()) : std::string("not judged");
  }));
  if (std::ranges::any_of(
          builds, [](const Build& build) { return build.found.found.flight.has_value(); })) {
    for (const char* key : {"rail_exit_speed_m_s", "apogee_m"}) {
      const FigureRow& row = figure_row(key);
      table.rows.push_back(row_of(std::string(row.label), builds, [&](const Build& build) {
        const auto& flight = build.found.found.flight;
        return flight ? show(*flight.*row.flown, row.dimension, units) : std::string("no airframe");
      }));
    }
  }
  table.rows.push_back(row_of("verdict", builds, [](const Build& build) {
    return std::string(name_of(build.found.found.verdict.answer()));
  }));
  return table;
}

/// The reasons of all builds together, each with its letter.
Verdict verdict_of(const std::vector<Build>& builds) {
  Verdict all;
  for (const Build& build : builds) {
    const auto add = [&](const std::vector<Reason>& reasons, std::vector<Reason>& to) {
      for (Reason reason : reasons) {
        reason.words = fmt::format("{}: {}", build.letter, reason.words);
        to.push_back(std::move(reason));
      }
    };
    const Verdict& own = build.found.found.verdict;
    add(own.broken, all.broken);
    add(own.not_judged, all.not_judged);
    add(own.assumed, all.assumed);
  }
  return all;
}

/// Which of them may be fired: "NO for A; YES, by this prediction, for B".
std::string first_sentence(const std::vector<Build>& builds) {
  std::string words;
  for (const auto& [answer, name] : {std::pair{Answer::no, "NO"},
                                     {Answer::unknown, "UNKNOWN"},
                                     {Answer::yes, "YES, by this prediction,"}}) {
    std::string letters;
    for (const Build& build : builds) {
      if (build.found.found.verdict.answer() != answer) continue;
      letters += (letters.empty() ? "" : ", ") + build.letter;
    }
    if (letters.empty()) continue;
    words += fmt::format("{}{} for {}", words.empty() ? "" : "; ", name, letters);
  }
  return words + ".";
}

/// Who leads in what, in one sentence; nobody by a hair, and no motor that must not be fired.
std::string praise_of(const std::vector<Build>& builds) {
  using Figure = double (*)(const Build&);
  constexpr double hair = 1e-3;
  constexpr std::pair<std::string_view, Figure> praises[] = {
      {"gives the most impulse",
       [](const Build& build) { return build.found.firing().summary.total_impulse; }},
      {"pushes hardest at ignition",
       [](const Build& build) { return build.found.firing().summary.initial_thrust; }},
      {"has the lowest peak pressure",
       [](const Build& build) { return -build.found.found.peak_pressure.value; }}};
  std::string words;
  for (const Build& build : builds) {
    if (build.found.found.verdict.answer() == Answer::no) continue;
    for (const auto& praised : praises) {
      const Figure figure = praised.second;
      const std::string_view praise = praised.first;
      const double own = figure(build);
      const bool leads = std::ranges::all_of(builds, [&](const Build& other) {
        return &other == &build || own > figure(other) + hair * std::abs(own);
      });
      if (leads) words += fmt::format("{}{} {}", words.empty() ? "" : "; ", build.letter, praise);
    }
  }
  return words.empty() ? "" : words + ".";
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
  Report report{.kind = "Builds side by side, a prediction",
                .title = title,
                .file = "",
                .verdict = first_sentence(builds),
                .answer = verdict_of(builds).answer(),
                .figures = {},
                .motor = {},
                .burn = {},
                .first = overlaid(builds, "thrust", "Thrust", Dimension::force, &Curve::thrust),
                .chapters = {},
                .job_text = "",
                .units = units};
  Chapter why{"reasons", "What the verdicts rest on", {}};
  for (const Build& build : builds) {
    why.blocks.push_back(Paragraph{
        fmt::format("{}: {}.", build.letter, cli::first_sentence(build.found.found, units))});
  }
  report.chapters.push_back(std::move(why));
  const Table numbers = numbers_of(builds, units);
  report.chapters.push_back(
      {"numbers", "Numbers", {DataTable{"", numbers.align, numbers.head, numbers.rows}}});
  Chapter motors{"motors", "Motors, each to its own scale", {}};
  for (const Build& build : builds) {
    motors.blocks.push_back(
        Drawing{{build.found.question.motor.motor(), build.job.casing, build.job.shell, units},
                build.letter});
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
  text.heading(first_sentence(builds));
  for (const Build& build : builds) {
    text.item(build.letter + "  ", cli::first_sentence(build.found.found, units) + ".");
  }
  text.heading("Builds side by side");
  for (const Build& build : builds) {
    text.item(fmt::format("{}  ", build.letter),
              fmt::format("{} ({})", name_of(build), build.file));
  }
  text.gap();
  if (const std::string praise = praise_of(builds); !praise.empty()) {
    text.paragraph(praise);
    text.gap();
  }
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
                    {"verdict", cli::json_of(build.found.found.verdict)},
                    {"judged", judged_json(build.found.found)},
                    {"remarks", remarks_of(build.job, build.found.found)},
                    {"segments", cli::json_of(build.job.grain)},
                    {"throat_m", build.job.nozzle->throat_diameter},
                    {"summary", cli::json_of(build.found.firing().summary)},
                    {"curve", cli::json_of(columns_of(build.found.firing()))}});
  }
  return {{"verdict", cli::json_of(verdict_of(builds))}, {"builds", list}};
}

}  // namespace

Output compare(const Arguments& arguments) {
  for (std::string option : {"save", "pick", "threads"}) {
    if (arguments.has(option)) {
      throw InputError("--" + option, "given with --compare", "one of the two");
    }
  }
  Targets targets(arguments, {"out"});
  const auto page = targets.file("out");
  const std::vector<Build> builds = builds_of(arguments, arguments.units());
  for (const Build& build : builds) targets.keep_clear_of(build.job);
  const UnitSystem units = arguments.units().value_or(builds.front().job.units);
  if (page) targets.put("out", html_of(report_of(builds, units)));
  targets.write();
  const Exit exit = exit_of(verdict_of(builds));
  if (arguments.format() == Format::json) return {written(json_of(builds)), exit};
  return {text_of(builds, units, page), exit};
}

}  // namespace grainwright::cli
