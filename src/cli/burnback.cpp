// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/burnback.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "arguments.hpp"
#include "columns.hpp"
#include "grainwright/job/job.hpp"
#include "json.hpp"
#include "numbers.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

constexpr int steps = 20;
/// Ends or peaks that differ by less than this are called level.
constexpr double level = 0.05;

/// One line of the table.
struct Point {
  double web = 0;
  double area = 0;
  double volume = 0;
  std::string event = {};
};

std::string segments_gone(const Grain& grain, double web) {
  int gone = 0;
  for (const Layer& layer : grain.layers) {
    if (burnout_web(layer.segment) == web) gone += layer.count;
  }
  return gone == 0 ? "" : fmt::format("{} of {} burnt out", gone, grain.segment_count());
}

/// Even steps of web and the ends of every stretch: where a segment burns out the area jumps, and
/// the web stands there twice, with the area before and after.
std::vector<Point> points_of(const Burnback& burnback) {
  std::vector<Point> points;
  for (const Stretch& stretch : burnback.stretches()) {
    auto add = [&](double web, std::string event = {}) {
      points.push_back({web, stretch.area(web), burnback.propellant_volume(web), std::move(event)});
    };
    add(stretch.from);
    for (int i = 1; i < steps; ++i) {
      double web = burnback.burnout() * i / steps;
      if (web > stretch.from && web < stretch.to) add(web);
    }
    add(stretch.to, segments_gone(burnback.grain(), stretch.to));
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

/// The trade's word for how the area runs from lighting to burnout, and the figures behind it.
std::string in_words(const std::vector<Point>& points, const AreaRange& range) {
  double initial = points.front().area;
  double final = points.back().area / initial;
  double peak = range.greatest / initial;
  double least = range.least / initial;
  bool flat = std::max(peak, 1 / least) < 1 + level;
  std::string_view word = flat                ? "Neutral"
                          : final > 1 + level ? "Progressive"
                          : final < 1 - level ? "Regressive"
                          : peak > 1 + level  ? "Level at its ends, but humped"
                                              : "Level at its ends, but sagging";
  return fmt::format(
      "{}: the burning area at burnout is {} of that at lighting; on the way it runs "
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
  tell_remarks(page, job.remarks);
  page.next("grainwright fire " + file);
  return page.text();
}

Answer run(const Arguments& arguments) {
  Job job = read_job(arguments.operand());
  Burnback burnback(segments_of(job));
  std::vector<Point> points = points_of(burnback);
  switch (arguments.format()) {
    case Format::json:
      return {written({{"burnback", json_of(columns_of(points))}})};
    case Format::csv:
      return {csv_of(columns_of(points))};
    case Format::text:
      break;
  }
  UnitSystem units = arguments.units().value_or(job.units);
  return {text_of(job, burnback, points, units, arguments.operand())};
}

}  // namespace

Command burnback_command() {
  return {.name = "burnback",
          .purpose = "how does the burning area change as the web burns?",
          .operand = "JOB",
          .options = {},
          .why_no_csv = "",
          .run = run};
}

}  // namespace grainwright::cli
