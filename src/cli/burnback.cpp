// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/burnback.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "arguments.hpp"
#include "columns.hpp"
#include "grainwright/error.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/report/grain_drawing.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "target.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

constexpr int steps = 20;
// Just past an event, relative to it: events nearer than this are one.
constexpr double just_after = 1e-12;
/// Ends or peaks that differ by less than this are called level.
constexpr double level = 0.05;
constexpr double nothing = 1e-9;

/// One line of the table.
struct Point {
  double web = 0;
  double area = 0;
  double volume = 0;
  std::string event = {};
};

std::string segments_gone(const Burnback& burnback, double web) {
  const Grain& grain = burnback.grain();
  const std::vector<double> burnouts = burnback.burnouts();
  int gone = 0;
  for (std::size_t i = 0; i < burnouts.size(); ++i) {
    if (burnouts[i] == web) gone += grain.layers[i].count;
  }
  return gone == 0 ? "" : fmt::format("{} of {} burnt out", gone, grain.segment_count());
}

/// Even steps of web and the events: where a segment burns out the area jumps, and
/// the web stands there twice, with the area before and after.
std::vector<Point> points_of(const Burnback& burnback) {
  std::vector<Point> points;
  auto add = [&](double web, double area, std::string event = {}) {
    points.push_back({web, area, burnback.propellant_volume(web), std::move(event)});
  };
  double from = 0;
  for (double to : burnback.events()) {
    add(from, burnback.burning_area(from * (1 + just_after)));
    for (int i = 1; i < steps; ++i) {
      double web = burnback.burnout() * i / steps;
      if (web > from && web < to) add(web, burnback.burning_area(web));
    }
    add(to, burnback.burning_area(to), segments_gone(burnback, to));
    from = to;
  }
  return points;
}

std::vector<Column> columns_of(const std::vector<Point>& points) {
  std::vector<Column> columns = {
      {"web_m", {}}, {"burning_area_m2", {}}, {"propellant_volume_m3", {}}};
  for (const Point& point : points) {
    columns[0].values.push_back(point.web);
    columns[1].values.push_back(point.area);
    columns[2].values.push_back(point.volume);
  }
  return columns;
}

/// The trade's word for how the area runs from ignition to burnout, and the figures behind it.
std::string in_words(const std::vector<Point>& points, const AreaRange& range) {
  double initial = points.front().area;
  double final = points.back().area / initial;
  if (final < nothing) final = 0;  // what rounding leaves of a sliver
  double peak = range.greatest / initial;
  double least = range.least / initial;
  bool flat = std::max(peak, 1 / least) < 1 + level;
  std::string_view word = flat                ? "Neutral"
                          : final > 1 + level ? "Progressive"
                          : final < 1 - level ? "Regressive"
                          : peak > 1 + level  ? "Level at its ends, but humped"
                                              : "Level at its ends, but sagging";
  return fmt::format(
      "{}: the burning area at burnout is {} of that at ignition; on the way it runs "
      "between {} and {} of it.",
      word, percent(final), percent(least), percent(peak));
}

Table table_of(const std::vector<Point>& points, UnitSystem units) {
  using enum Dimension;
  Table table{.align = "rrrrl",
              .head = {head("web", length, units), head("burning area", area, units),
                       head("propellant", volume, units), "area, % of start", ""}};
  auto columned = [&](Dimension dimension, auto&& figure) {
    std::vector<double> values;
    for (const Point& point : points) values.push_back(figure(point));
    return column(values, dimension, units);
  };
  auto webs = columned(length, [](const Point& point) { return point.web; });
  auto areas = columned(area, [](const Point& point) { return point.area; });
  auto volumes = columned(volume, [](const Point& point) { return point.volume; });
  auto shares =
      columned(ratio, [&](const Point& point) { return 100 * point.area / points.front().area; });
  for (std::size_t i = 0; i < points.size(); ++i) {
    table.rows.push_back({webs[i], areas[i], volumes[i], shares[i], points[i].event});
  }
  return table;
}

/// What each core off centre costs, whole and by length of offset.
void tell_offsets(Page& page, const Grain& grain, UnitSystem units) {
  Table table{.align = "rlllll",
              .head = {"segment", "offset", "meets the wall at", "left then",
                       "left when a centred one is out", "peak / mean area"}};
  for (std::size_t i = 0; i < grain.layers.size(); ++i) {
    const auto cost = off_centre_cost(grain.layers[i].segment);
    if (!cost) continue;
    table.rows.push_back(
        {std::to_string(i + 1), show_length(cost->offset, units),
         show_length(cost->break_out, units), percent(cost->left_at_break_out),
         percent(cost->left_at_centred),
         fmt::format("{} for {}", show(cost->neutrality, Dimension::ratio, units, 4),
                     show(cost->centred_neutrality, Dimension::ratio, units, 4))});
  }
  if (table.rows.empty()) return;
  page.heading("What the offset costs");
  page.table(table);
  for (std::size_t i = 0; i < grain.layers.size(); ++i) {
    const auto cost = off_centre_cost(grain.layers[i].segment);
    if (!cost) continue;
    const double millimetres = 1e3 * cost->offset;
    page.paragraph(fmt::format(
        "Segment {}, for each millimetre of offset: {} of the propellant burns after a core in the "
        "middle would be out, and peak over mean area rises by {}.",
        i + 1, percent(cost->left_at_centred / millimetres),
        percent((cost->neutrality / cost->centred_neutrality - 1) / millimetres)));
  }
}

Json json_of(const Burnback& burnback, const std::vector<Point>& points) {
  Json answer = {{"burnback", cli::json_of(columns_of(points))}};
  const auto& layers = burnback.grain().layers;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const auto cost = off_centre_cost(layers[i].segment);
    if (!cost) continue;
    answer["off_centre"].push_back({{"segment", i + 1},
                                    {"offset_m", cost->offset},
                                    {"break_out_m", cost->break_out},
                                    {"left_at_break_out", cost->left_at_break_out},
                                    {"left_when_centred_is_out", cost->left_at_centred},
                                    {"neutrality", cost->neutrality},
                                    {"centred_neutrality", cost->centred_neutrality}});
  }
  return answer;
}

std::string text_of(const Job& job, const Burnback& burnback, const std::vector<Point>& points,
                    UnitSystem units, const std::string& file) {
  Page page;
  page.heading(title_of("Burnback", job));
  page.heading("Segments, head end first");
  page.table(cli::table_of(burnback.grain(), units));
  page.heading("Area and volume against web burned");
  page.table(table_of(points, units));
  page.heading("How it runs");
  page.paragraph(in_words(points, burnback.range()));
  if (burnback.slivers_from() < burnback.burnout()) {
    page.paragraph(fmt::format(
        "Slivers: from {} of web on less than {} of the propellant is left, "
        "and the area falls to nothing. What is said of the least area and "
        "of the lowest pressure stops there.",
        show(burnback.slivers_from(), Dimension::length, units), percent(sliver_share)));
  }
  tell_offsets(page, burnback.grain(), units);
  tell_remarks(page, job.remarks);
  page.next("grainwright fire " + file);
  return page.text();
}

Output run(const Arguments& arguments) {
  Targets targets(arguments, {"svg"});
  const std::optional<std::string> svg = targets.file("svg");
  if (!svg && arguments.has("force")) {
    throw InputError("--force", "given alone", "--svg FILE beside it");
  }
  Job job = read_job(arguments.operand());
  targets.keep_clear_of(job);
  Burnback burnback(segments_of(job));
  std::vector<Point> points = points_of(burnback);
  UnitSystem units = arguments.units().value_or(job.units);
  if (svg) targets.put("svg", burnback_svg(burnback, {.units = units}));
  targets.write();
  switch (arguments.format()) {
    case Format::json:
      return {written(json_of(burnback, points))};
    case Format::csv:
      return {csv_of(columns_of(points))};
    case Format::text:
      break;
  }
  return {text_of(job, burnback, points, units, arguments.operand())};
}

}  // namespace

Command burnback_command() {
  return {.name = "burnback",
          .purpose = "how does the burning area change as the web burns?",
          .operand = "JOB",
          .options = {{"svg", "FILE", "also draw sections and stack with the front as it burns"},
                      {"force", "", "let --svg replace a file"}},
          .why_no_csv = "",
          .run = run};
}

}  // namespace grainwright::cli
