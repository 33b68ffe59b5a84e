// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/figures.hpp"

#include <algorithm>
#include <cmath>

#include "grainwright/firing/firing.hpp"
#include "grainwright/motor/gas.hpp"

namespace grainwright {
namespace {

/// A level nearer to the noise than this cannot be told.
constexpr double levels_over_noise = 4;

double at_time(const std::vector<double>& time, const std::vector<double>& value, std::size_t i,
               double when) {
  const double span = time[i] - time[i - 1];
  return value[i - 1] + (span > 0 ? (when - time[i - 1]) / span : 0) * (value[i] - value[i - 1]);
}

/// Of an integral over some time: the scale's, the rest's, and each row's noise.
WithError with_error(double value, double lasts, const Trace& trace, double scale_error) {
  const double rows = lasts * trace.noise * std::sqrt(trace.step / std::max(lasts, trace.step));
  return {value, std::hypot(scale_error * value, trace.tare_error * lasts, rows)};
}

/// From 10 to 90 % of the mean thrust over the tenth of the action time that follows its first
/// twentieth.
double rise_time(const Trace& trace, const TimeSpan& action) {
  const double from = action.from + action.length() / 20;
  const double lasts = action.length() / 10;
  const double level = integral(trace.time, trace.thrust, from, from + lasts) / lasts;
  const auto tenth = span_over(trace.time, trace.thrust, 0.1 * level);
  const auto most = span_over(trace.time, trace.thrust, 0.9 * level);
  return tenth && most ? most->from - tenth->from : 0;
}

/// From where thrust falls under three quarters of its mean to the end of the action time.
double fall_time(const Trace& trace, const TimeSpan& action) {
  const double level = integral(trace.time, trace.thrust, action.from, action.to) / action.length();
  const auto high = span_over(trace.time, trace.thrust, 0.75 * level);
  return action.to - (high ? high->to : action.to);
}

void take_times(StandFigures& figures, const Trace& trace) {
  const double peak = std::ranges::max(trace.thrust);
  const auto over = [&](double share) {
    return span_over(trace.time, trace.thrust, share * peak).value_or(TimeSpan{});
  };
  figures.action_10 = over(0.1);
  figures.action_5 = over(0.05);
  if (0.05 * peak < levels_over_noise * trace.noise) {
    figures.remarks.emplace_back("5 % of peak thrust is within the noise: times to it are rough");
  }
  const TimeSpan& action = figures.action_10;
  figures.bisector = aft_tangent_bisector(trace.time, trace.thrust, action.length(), peak);
  if (!figures.bisector) {
    figures.remarks.emplace_back(
        "no tail-off to lay tangents to: the burning time is the action "
        "time at 10 %");
  }
  const double out = figures.bisector.value_or(action.to);
  figures.burning_time = out - action.from;
  figures.tail_off = action.to - out;
  figures.rise_time = rise_time(trace, action);
  figures.fall = fall_time(trace, action);
}

void take_thrust(StandFigures& figures, const Trace& trace, double scale_error) {
  const auto over = [&](const TimeSpan& span) {
    return with_error(integral(trace.time, trace.thrust, span.from, span.to), span.length(), trace,
                      scale_error);
  };
  figures.total_impulse = over({0, trace.end});
  figures.action_impulse_10 = over(figures.action_10);
  figures.action_impulse_5 = over(figures.action_5);
  const double peak = std::ranges::max(trace.thrust);
  figures.peak_thrust = {peak, std::hypot(scale_error * peak, trace.noise)};
  const double from = figures.action_10.from;
  const WithError burning = over({from, from + figures.burning_time});
  figures.mean_thrust = {burning.value / figures.burning_time,
                         burning.error / figures.burning_time};
  figures.letter_class = letter_class(figures.total_impulse.value);
  figures.share_of_class = share_of_class(figures.total_impulse.value);
}

void take_specific_impulse(StandFigures& figures, const FigureOptions& options) {
  if (options.propellant_mass <= 0) return;
  const auto& [impulse, error] = figures.total_impulse;
  const double isp = impulse / (options.propellant_mass * standard_gravity);
  figures.specific_impulse = {
      isp, isp * std::hypot(error / impulse, options.mass_error / options.propellant_mass)};
}

void take_pressure(StandFigures& figures, const Trace& trace, const FigureOptions& options) {
  if (trace.pressure.empty()) return;
  const double to = figures.action_10.from + figures.burning_time;
  figures.peak_pressure = std::ranges::max(trace.pressure);
  figures.mean_pressure =
      integral(trace.time, trace.pressure, figures.action_10.from, to) / figures.burning_time;
  if (options.throat_area <= 0 || options.propellant_mass <= 0) return;
  // While the throat chokes; what flows below a tenth of the peak is left out, and so is its time.
  const TimeSpan& acting = figures.action_10;
  const double sum = integral(trace.time, trace.pressure, acting.from, acting.to);
  const double speed = sum * options.throat_area / options.propellant_mass;
  figures.characteristic_velocity = {
      speed,
      speed * std::hypot(options.pressure_error, options.mass_error / options.propellant_mass)};
}

}  // namespace

std::optional<TimeSpan> span_over(const std::vector<double>& time, const std::vector<double>& value,
                                  double level) {
  const auto over = [&](double v) { return v >= level; };
  const auto first = std::ranges::find_if(value, over);
  if (first == value.end()) return std::nullopt;
  const auto from = static_cast<std::size_t>(first - value.begin());
  std::size_t to = value.size() - 1;
  while (!over(value[to])) --to;
  const auto crossing = [&](std::size_t i) {
    const double share = (level - value[i - 1]) / (value[i] - value[i - 1]);
    return time[i - 1] + share * (time[i] - time[i - 1]);
  };
  return TimeSpan{from == 0 ? time.front() : crossing(from),
                  to + 1 == value.size() ? time.back() : crossing(to + 1)};
}

double integral(const std::vector<double>& time, const std::vector<double>& value, double from,
                double to) {
  double sum = 0;
  auto i = static_cast<std::size_t>(std::ranges::upper_bound(time, from) - time.begin());
  for (i = std::max<std::size_t>(1, i); i < time.size() && time[i - 1] < to; ++i) {
    const double a = std::max(from, time[i - 1]);
    const double b = std::min(to, time[i]);
    if (b > a) {
      sum += (b - a) * (at_time(time, value, i, a) + at_time(time, value, i, b)) / 2;
    }
  }
  return sum;
}

double share_of_class(double impulse) {
  // Classes double from a lower limit of 1.25 N s on, half and quarter classes below.
  const double steps = std::log2(impulse / 1.25);
  const double lower = 1.25 * std::exp2(std::ceil(steps - 1e-12) - 1);
  return (impulse - lower) / lower;
}

StandFigures figures_of(const Trace& trace, const FigureOptions& options) {
  StandFigures figures;
  take_times(figures, trace);
  take_thrust(figures, trace, options.scale_error);
  take_specific_impulse(figures, options);
  take_pressure(figures, trace, options);
  return figures;
}

}  // namespace grainwright
