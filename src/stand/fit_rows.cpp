// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_rows.hpp"

#include <algorithm>
#include <cmath>

#include "grainwright/polyline.hpp"

namespace grainwright {
namespace {

constexpr std::size_t most_rows = 2000;

std::vector<FitRow> rows_of(const Trace& trace, const std::vector<double>& column) {
  const auto index = [&](double when) {
    return static_cast<std::size_t>(std::ranges::lower_bound(trace.time, when) -
                                    trace.time.begin());
  };
  const double lit = lit_share * std::ranges::max(trace.thrust);
  const auto first = static_cast<std::size_t>(
      std::ranges::find_if(trace.thrust, [&](double f) { return f >= lit; }) -
      trace.thrust.begin());
  const std::size_t last = std::min(index(trace.end) + 1, trace.time.size());
  const std::size_t together = std::max<std::size_t>(1, (last - first) / most_rows);
  std::vector<FitRow> rows;
  for (std::size_t i = first; i < last;) {
    std::size_t count = 0;
    double sum = 0;
    double from = trace.time[i], to = from;
    for (; i < last && count < together; ++i) {
      if (trace.thrust[i] >= trace.clip_thrust) continue;
      // A mean is of neighbours: a gap ends it.
      if (count > 0 && trace.time[i] - to > gap_steps * trace.step) break;
      if (count == 0) from = trace.time[i];
      to = trace.time[i];
      sum += column[i];
      ++count;
    }
    if (count == 0) continue;
    const double half = count > 1 ? trace.step / 2 : 0;
    rows.push_back({from - half, to + half, sum / static_cast<double>(count),
                    std::sqrt(static_cast<double>(count))});
  }
  return rows;
}

}  // namespace

std::vector<FitRow> thrust_rows(const Trace& trace) {
  return rows_of(trace, trace.thrust);
}

std::vector<FitRow> pressure_rows(const Trace& trace) {
  if (trace.pressure.empty()) return {};
  return rows_of(trace, trace.pressure);
}

Followed::Followed(const std::vector<double>& time, const std::vector<double>& value, double rest)
    : time_(time), value_(value), integral_(time.size(), 0), rest_(rest) {
  for (std::size_t i = 1; i < time.size(); ++i) {
    integral_[i] =
        integral_[i - 1] + (time[i] - time[i - 1]) * ((value[i] + value[i - 1]) / 2 - rest);
  }
}

double Followed::at(double time) const {
  return polyline_at(time_, value_, time, rest_);
}

// Of what exceeds rest.
double Followed::integral_to(double time) const {
  const auto next = std::ranges::upper_bound(time_, time);
  if (next == time_.begin()) return 0;
  if (next == time_.end()) return integral_.back();
  const auto i = static_cast<std::size_t>(next - time_.begin());
  return integral_[i - 1] + (time - time_[i - 1]) * ((at(time) + value_[i - 1]) / 2 - rest_);
}

double Followed::over(const FitRow& row, double moment) const {
  if (row.from == row.to) return at(row.from - moment);
  const double sum = integral_to(row.to - moment) - integral_to(row.from - moment);
  return rest_ + sum / (row.to - row.from);
}

}  // namespace grainwright
