// SPDX-License-Identifier: GPL-3.0-or-later
#include "recorder.hpp"

#include <algorithm>

namespace grainwright {
namespace {

// Top of the parabola through three points of which the middle one is highest.
double top_of(const double* time, const double* value) {
  const double before = time[1] - time[0];
  const double after = time[2] - time[1];
  if (before <= 0 || after <= 0) return value[1];
  const double rise = (value[1] - value[0]) / before;
  const double fall = (value[2] - value[1]) / after;
  const double bend = (fall - rise) / (before + after);
  if (bend >= 0) return value[1];
  const double slope = (rise * after + fall * before) / (before + after);
  return value[1] - slope * slope / (4 * bend);
}

double crossing(const std::vector<double>& time, const std::vector<double>& value, std::size_t i,
                double level) {
  const double share = (level - value[i - 1]) / (value[i] - value[i - 1]);
  return time[i - 1] + share * (time[i] - time[i - 1]);
}

}  // namespace

void append(Curve& curve, const CurvePoint& point) {
  curve.time.push_back(point.time);
  curve.web.push_back(point.web);
  curve.burning_area.push_back(point.burning_area);
  curve.kn.push_back(point.kn);
  curve.pressure.push_back(point.pressure);
  curve.thrust.push_back(point.thrust);
}

double peak_of(const std::vector<double>& time, const std::vector<double>& value) {
  const auto top = std::ranges::max_element(value);
  const auto i = static_cast<std::size_t>(top - value.begin());
  if (i == 0 || i + 1 == value.size()) return *top;
  return top_of(&time[i - 1], &value[i - 1]);
}

std::optional<Span> span_above(const std::vector<double>& time, const std::vector<double>& value,
                               double level) {
  const auto above = [&](double candidate) { return candidate >= level; };
  const auto first = std::ranges::find_if(value, above);
  if (first == value.end()) return std::nullopt;
  const auto from = static_cast<std::size_t>(first - value.begin());
  std::size_t to = value.size() - 1;
  while (!above(value[to])) --to;
  return Span{from == 0 ? time.front() : crossing(time, value, from, level),
              to + 1 == value.size() ? time.back() : crossing(time, value, to + 1, level)};
}

}  // namespace grainwright
