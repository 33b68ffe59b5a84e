// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/compare.hpp"

#include <algorithm>
#include <cmath>

#include "fit_rows.hpp"
#include "hints.hpp"

namespace grainwright {
namespace {

constexpr int tenths = 10;

struct Figure {
  const char* name;
  Dimension dimension;
  double (*of)(const StandFigures& figures);
};
const Figure figures_told[] = {
    {"peak thrust", Dimension::force, [](const StandFigures& f) { return f.peak_thrust.value; }},
    {"mean thrust", Dimension::force, [](const StandFigures& f) { return f.mean_thrust.value; }},
    {"burning time", Dimension::time, [](const StandFigures& f) { return f.burning_time; }},
    {"action time", Dimension::time, [](const StandFigures& f) { return f.action_10.length(); }},
    {"total impulse", Dimension::impulse,
     [](const StandFigures& f) { return f.total_impulse.value; }},
};

StandFigures predicted_figures(Motor motor, const Lighting& lighting, double rate_factor) {
  motor.propellant.law = motor.propellant.law.times(rate_factor);
  return figures_of(trace_of(fire_transient(motor, {.lighting = lighting})));
}

/// Mean thrust of each tenth of a time.
std::vector<double> means(const std::vector<double>& time, const std::vector<double>& thrust,
                          const TimeSpan& span) {
  std::vector<double> found;
  const double width = span.length() / tenths;
  for (int i = 0; i < tenths; ++i) {
    const double from = span.from + i * width;
    found.push_back(integral(time, thrust, from, from + width) / width);
  }
  return found;
}

std::vector<Tenth> tenths_of(const Shot& shot, const StandFigures& measured,
                             const Comparison& comparison) {
  const Curve& curve = comparison.predicted.curve;
  const TimeSpan& span = measured.action_10;
  const std::vector<double> seen = means(shot.trace.time, shot.trace.thrust, span);
  const std::vector<double> said = means(curve.time, curve.thrust, comparison.figures.action_10);
  // At the same time, both counted from their first 10 %.
  const Followed followed(curve.time, curve.thrust, 0);
  const double width = span.length() / tenths;
  std::vector<Tenth> found;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    const double from = span.from + static_cast<double>(i) * width;
    const double then = followed.over({from, from + width, 0, 1}, comparison.moment);
    found.push_back({seen[i], said[i], seen[i] - then});
  }
  return found;
}

/// The log's own columns of what `beside` gives.
Beside measured_rows(const Trace& trace, std::size_t most) {
  constexpr double margin = 0.05;  // of the firing
  const auto row = [&](double when) {
    return static_cast<std::size_t>(std::ranges::lower_bound(trace.time, when) -
                                    trace.time.begin());
  };
  const std::size_t first = row(-margin * trace.end);
  const std::size_t last = row((1 + margin) * trace.end);
  const std::size_t together = 1 + (last - first - 1) / std::max<std::size_t>(1, most);
  Beside found;
  for (std::size_t i = first; i < last; i += together) {
    const std::size_t end = std::min(last, i + together);
    const auto mean = [&](const std::vector<double>& column) {
      double sum = 0;
      for (std::size_t k = i; k < end; ++k) sum += column[k];
      return sum / static_cast<double>(end - i);
    };
    found.time.push_back(mean(trace.time));
    found.thrust.push_back(mean(trace.thrust));
    if (!trace.pressure.empty()) found.pressure.push_back(mean(trace.pressure));
  }
  return found;
}

/// A firing's thrust at the log's times, and its pressure where the log has one.
void follow(const Curve& curve, double moment, const Beside& log, std::vector<double>& thrust,
            std::vector<double>& pressure) {
  const auto column = [&](const std::vector<double>& values, double rest) {
    const Followed followed(curve.time, values, rest);
    std::vector<double> at;
    at.reserve(log.time.size());
    for (const double t : log.time) at.push_back(followed.over({t, t, 0, 1}, moment));
    return at;
  };
  thrust = column(curve.thrust, 0);
  if (!log.pressure.empty()) pressure = column(curve.pressure, curve.pressure.back());
}

}  // namespace

Beside beside(const Trace& trace, const Comparison* comparison, const Fit* fit, std::size_t most) {
  Beside found = measured_rows(trace, most);
  if (comparison != nullptr) {
    follow(comparison->predicted.curve, comparison->moment, found, found.predicted_thrust,
           found.predicted_pressure);
  }
  if (fit != nullptr) {
    follow(fit->firings.front().curve, fit->lighting_moments.front(), found, found.fitted_thrust,
           found.fitted_pressure);
  }
  return found;
}

Trace trace_of(const Firing& firing) {
  Trace trace;
  trace.time = firing.curve.time;
  trace.thrust = firing.curve.thrust;
  trace.end = trace.time.back();
  trace.step = trace.end / static_cast<double>(trace.time.size());
  return trace;
}

Comparison compare(const Shot& shot, const StandFigures& measured, double rate_error) {
  const auto& [motor, lighting, trace] = shot;
  Comparison comparison;
  const auto& known = motor.propellant.measured;
  comparison.rate_error = rate_error > 0 ? rate_error
                          : known        ? known->rate_error
                                         : usual_rate_error;
  comparison.efficiency_error =
      known && known->efficiency_error > 0 ? known->efficiency_error : usual_efficiency_error;
  comparison.predicted = fire_transient(motor, {.lighting = lighting});
  comparison.figures = figures_of(trace_of(comparison.predicted));
  comparison.moment = measured.action_10.from - comparison.figures.action_10.from;
  const double off = interval_factor * comparison.rate_error;
  const StandFigures slow = predicted_figures(motor, lighting, std::exp(-off));
  const StandFigures quick = predicted_figures(motor, lighting, std::exp(off));
  for (const Figure& figure : figures_told) {
    const double said = figure.of(comparison.figures);
    const double a = std::log(figure.of(slow) / said);
    const double b = std::log(figure.of(quick) / said);
    const double gain =
        figure.dimension == Dimension::time ? 0 : interval_factor * comparison.efficiency_error;
    const double down = std::hypot(std::min({a, b, 0.0}), gain);
    const double up = std::hypot(std::max({a, b, 0.0}), gain);
    comparison.figures_compared.push_back({figure.name, figure.dimension, figure.of(measured), said,
                                           said * std::exp(-down), said * std::exp(up)});
  }
  comparison.tenths = tenths_of(shot, measured, comparison);
  comparison.hints = hints_for(comparison, measured, comparison.predicted.summary.port_to_throat);
  return comparison;
}

}  // namespace grainwright
