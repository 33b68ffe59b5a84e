// SPDX-License-Identifier: GPL-3.0-or-later
#include "spreadsheet.hpp"

#include <fmt/format.h>

#include <cmath>
#include <iterator>

namespace grainwright::cli {
namespace {

constexpr double most_rows = 1000;

struct SheetColumn {
  std::string name;
  Dimension dimension = Dimension::ratio;
  std::vector<double> values;  ///< SI
};

/// The first of 1, 2 and 5 times a power of ten that keeps the table short enough.
double step_for(double duration) {
  double decade = 1e-6;
  while (true) {
    for (double step : {decade, 2 * decade, 5 * decade}) {
      if (duration / step < most_rows) return step;
    }
    decade *= 10;
  }
}

std::vector<double> even_times(double duration) {
  const double step = step_for(duration);
  std::vector<double> times;
  for (int i = 0; i * step <= duration; ++i) times.push_back(i * step);
  return times;
}

std::vector<SheetColumn> columns_of(const Job& job, const Findings& found) {
  using enum Dimension;
  const Curve& curve = found.firing().curve;
  const std::vector<double> moments = even_times(curve.time.back());
  const auto sampled = [&](const std::vector<double>& values) {
    return resampled(curve.time, values, moments);
  };
  std::vector<SheetColumn> columns = {{"time", time, moments},
                                      {"thrust", force, sampled(curve.thrust)},
                                      {"pressure", pressure, sampled(curve.pressure)},
                                      {"web", length, sampled(curve.web)},
                                      {"burning area", area, sampled(curve.burning_area)},
                                      {"Kn", ratio, sampled(curve.kn)}};
  if (const Profile* asked = asked_profile(job)) {
    columns.push_back(
        {"asked thrust", force, asked_thrust(*asked, found.firing().summary, moments)});
  }
  if (const auto& axial = found.found.axial) {
    columns.push_back({"head pressure of the axial model", pressure,
                       resampled(axial->curve.time, axial->curve.pressure, moments)});
  }
  if (found.found.flight) {
    const Track& track = found.found.flight->track;
    columns.push_back({"height", distance, resampled(track.time, track.height, moments)});
    columns.push_back({"speed", speed, resampled(track.time, track.speed, moments)});
  }
  return columns;
}

}  // namespace

std::string spreadsheet_of(const Job& job, const Findings& found, UnitSystem units) {
  const std::vector<SheetColumn> columns = columns_of(job, found);
  std::string text;
  for (const SheetColumn& column : columns) {
    const std::string_view unit = unit_of(column.dimension, units);
    text += fmt::format("{}{}{}", text.empty() ? "" : ",", column.name,
                        unit.empty() ? "" : fmt::format(" ({})", unit));
  }
  text += '\n';
  for (std::size_t row = 0; row < columns.front().values.size(); ++row) {
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const double value = in_units(columns[i].values[row], columns[i].dimension, units);
      // What there is not at that moment is an empty cell.
      fmt::format_to(std::back_inserter(text), "{}{}", i == 0 ? "" : ",",
                     std::isnan(value) ? "" : fmt::format("{:.6g}", value));
    }
    text += '\n';
  }
  return text;
}

}  // namespace grainwright::cli
