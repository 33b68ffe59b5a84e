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
  const double peak = std::ranges::max(trace.thrust);
  figures.action_10 = span_over(trace.time, trace.thrust, 0.1 * peak).value_or(TimeSpan{});
  figures.action_5 = span_over(trace.time, trace.thrust, 0.05 * peak).value_or(TimeSpan{});
  if (0.05 * peak < levels_over_noise * trace.noise) {
    figures.remarks.emplace_back("5 % of peak thrust is within the noise: times to it are rough");
  }
  figures.bisector =
      aft_tangent_bisector(trace.time, trace.thrust, figures.action_10.length(), peak);
  if (!figures.bisector) {
    figures.remarks.emplace_back(
        "no tail-off to lay tangents to: the burning time is the action "
        "time at 10 %");
  }
  const double out = figures.bisector.value_or(figures.action_10.to);
  figures.burning_time = out - figures.action_10.from;
  figures.tail_off = figures.action_10.to - out;
  figures.rise_time = rise_time(trace, figures.action_10);

  const double level =
      integral(trace.time, trace.thrust, figures.action_10.from, figures.action_10.to) /
      figures.action_10.length();
  const auto high = span_over(trace.time, trace.thrust, 0.75 * level);
  figures.fall = figures.action_10.to - (high ? high->to : figures.action_10.to);

  const auto over = [&](double from, double to) {
    return with_error(integral(trace.time, trace.thrust, from, to), to - from, trace,
                      options.scale_error);
  };
  figures.total_impulse = over(0, trace.end);
  figures.action_impulse_10 = over(figures.action_10.from, figures.action_10.to);
  figures.action_impulse_5 = over(figures.action_5.from, figures.action_5.to);
  figures.peak_thrust = {peak, std::hypot(options.scale_error * peak, trace.noise)};
  const WithError burning = over(figures.action_10.from, out);
  figures.mean_thrust = {burning.value / figures.burning_time,
                         burning.error / figures.burning_time};
  const double impulse = figures.total_impulse.value;
  figures.letter_class = letter_class(impulse);
  figures.share_of_class = share_of_class(impulse);
  if (options.propellant_mass > 0) {
    const double isp = impulse / (options.propellant_mass * standard_gravity);
    figures.specific_impulse = {isp,
                                isp * std::hypot(figures.total_impulse.error / impulse,
                                                 options.mass_error / options.propellant_mass)};
  }
  take_pressure(figures, trace, options);
  return figures;
}

}  // namespace grainwright
