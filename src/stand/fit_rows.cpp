// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_rows.hpp"

#include <algorithm>
#include <cmath>

#include "grainwright/polyline.hpp"

namespace grainwright {
namespace {

constexpr double lit_share = 0.1;  // of peak thrust, where it counts as lit
constexpr std::size_t most_rows = 500;

constexpr double rest_rows = 0.05;   // of the firing, to both sides of it
constexpr double early_from = 0.05;  // of the action time, where thrust counts as risen
constexpr double early_to = 0.15;

std::vector<FitRow> rows_of(const Trace& trace, const std::vector<double>& column) {
  const auto index = [&](double when) {
    return static_cast<std::size_t>(std::ranges::lower_bound(trace.time, when) -
                                    trace.time.begin());
  };
  const Rise rise = rise_of(trace);
  const double margin = rest_rows * trace.end;
  const std::size_t first = index(-margin);
  const std::size_t last = std::min(index(trace.end + margin) + 1, trace.time.size());
  // The igniter's gas and the spread of the flame last longer than the thrust takes to rise.
  const double lighting = rise.tenth + early_from * (rise.last_tenth - rise.tenth);
  const std::size_t risen = index(std::max(rise.risen, lighting)) + 1;
  const std::size_t together = std::max<std::size_t>(1, (last - first) / most_rows);
  const double extra = rise_share * std::ranges::max(column);
  std::vector<FitRow> rows;
  for (std::size_t i = first; i < last;) {
    std::size_t count = 0;
    double sum = 0;
    double from = trace.time[i], to = from;
    const bool rising = trace.time[i] > 0 && i < risen;
    for (; i < last && count < together; ++i) {
      if (trace.thrust[i] >= trace.clip_thrust) continue;
      // A mean is of neighbours of one kind: a gap ends it, and so does the rise.
      if (count > 0 && trace.time[i] - to > gap_steps * trace.step) break;
      if ((trace.time[i] > 0 && i < risen) != rising) break;
      if (count == 0) from = trace.time[i];
      to = trace.time[i];
      sum += column[i];
      ++count;
    }
    if (count == 0) continue;
    const double half = count > 1 ? trace.step / 2 : 0;
    rows.push_back({from - half, to + half, sum / static_cast<double>(count),
                    std::sqrt(static_cast<double>(count)), rising ? extra : 0});
  }
  return rows;
}

}  // namespace

Rise rise_of(const Trace& trace) {
  const auto& f = trace.thrust;
  const auto within = [&](std::size_t i) {
    return trace.time[i] >= 0 && trace.time[i] <= trace.end;
  };
  double peak = 0;
  for (std::size_t i = 0; i < f.size(); ++i) peak = within(i) ? std::max(peak, f[i]) : peak;
  Rise rise;
  bool begun = false;
  for (std::size_t i = 0; i < f.size(); ++i) {
    if (!within(i) || f[i] < lit_share * peak) continue;
    if (!begun) rise.tenth = trace.time[i];
    begun = true;
    rise.last_tenth = trace.time[i];
  }
  const double action = rise.last_tenth - rise.tenth;
  double sum = 0, count = 0;
  for (std::size_t i = 0; i < f.size(); ++i) {
    const double share = action > 0 ? (trace.time[i] - rise.tenth) / action : 0;
    if (share < early_from || share > early_to) continue;
    sum += f[i];
    ++count;
  }
  const double level = count > 0 ? 0.9 * sum / count : peak;
  rise.risen = rise.tenth;
  for (std::size_t i = 0; i < f.size(); ++i) {
    if (trace.time[i] < rise.tenth || f[i] < level) continue;
    rise.risen = trace.time[i];
    break;
  }
  rise.length = std::max(rise.risen - rise.tenth, trace.step);
  return rise;
}

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

double Followed::over(const FitRow& row, double moment, double clock) const {
  const double from = (row.from - moment) / clock;
  if (row.from == row.to) return at(from);
  const double to = (row.to - moment) / clock;
  return rest_ + (integral_to(to) - integral_to(from)) / (to - from);
}

std::vector<double> lagged(std::vector<double>& time, const std::vector<double>& value, double rest,
                           double lag) {
  constexpr int after = 12;  // points of the end's decay, over six time constants
  std::vector<double> shown(value.size(), rest);
  // A straight line of input, v0 + s t: the output nears v0 + s (t - lag).
  const auto follow = [&](double from, double v0, double v1, double step) {
    if (step <= 0) return from;
    const double slope = (v1 - v0) / step;
    const double kept = std::exp(-step / lag);
    return v1 - slope * lag + (from - v0 + slope * lag) * kept;
  };
  for (std::size_t i = 1; i < value.size(); ++i) {
    shown[i] = follow(shown[i - 1], value[i - 1], value[i], time[i] - time[i - 1]);
  }
  for (int i = 0; i < after; ++i) {
    shown.push_back(follow(shown.back(), rest, rest, lag / 2));
    time.push_back(time.back() + lag / 2);
  }
  return shown;
}

}  // namespace grainwright
