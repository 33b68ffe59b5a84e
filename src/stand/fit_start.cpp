// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>

#include "fit_task.hpp"
#include "grainwright/firing/transient.hpp"

namespace grainwright {
namespace {

constexpr int rounds = 6;
constexpr double farthest_rate = 2;  // in ln of the job's

/// Of one log: rate, gain, moment and mean pressure.
struct OneStart {
  double ln_rate = 0;
  double ln_gain = 0;
  double moment = 0;
  double pressure = 0;
};

double impulse_of(const Trace& trace) {
  return integral(trace.time, trace.thrust, 0, trace.end);
}

double first_tenth(const Curve& curve) {
  const double lit = 0.1 * std::ranges::max(curve.thrust);
  const auto risen = std::ranges::find_if(curve.thrust, [&](double f) { return f >= lit; });
  return curve.time[static_cast<std::size_t>(risen - curve.thrust.begin())];
}

OneStart start_of(const Shot& shot) {
  const Rise rise = rise_of(shot.trace);
  const double lasts = rise.last_tenth - rise.tenth;
  OneStart start;
  Firing firing;
  for (int i = 0; i < rounds; ++i) {
    firing = fire_transient(changed(shot.motor, {.ln_rate = start.ln_rate}, 1e6),
                            {.lighting = shot.lighting});
    const double off = std::log(firing.transient->action_time / lasts);
    if (i + 1 == rounds || !std::isfinite(off)) break;
    // Time goes as rate^(-1/(1-n)); a third of the way more where n is unknown is soon made good.
    start.ln_rate = std::clamp(start.ln_rate + 0.67 * off, -farthest_rate, farthest_rate);
  }
  start.ln_gain = std::log(impulse_of(shot.trace) / firing.summary.total_impulse);
  start.moment = rise.tenth - first_tenth(firing.curve);
  start.pressure = firing.summary.mean_pressure;
  return start;
}

}  // namespace

std::vector<Shot> alike(const std::vector<Shot>& shots) {
  std::vector<Shot> all = shots;
  for (Shot& shot : all) {
    shot.motor.propellant = shots.front().motor.propellant;
    shot.motor.nozzle.efficiency = shots.front().motor.nozzle.efficiency;
  }
  return all;
}

Pressures pressures_of(const std::vector<Firing>& firings) {
  Pressures pressures{std::numeric_limits<double>::infinity(), 0};
  for (const Firing& firing : firings) {
    const Curve& curve = firing.curve;
    std::vector<std::pair<double, double>> spent;  // pressure, time
    double all = 0;
    for (std::size_t i = 1; i < curve.time.size() && curve.time[i] <= firing.summary.burn_time;
         ++i) {
      const double step = curve.time[i] - curve.time[i - 1];
      spent.emplace_back((curve.pressure[i] + curve.pressure[i - 1]) / 2, step);
      all += step;
    }
    std::ranges::sort(spent);
    double passed = 0;
    for (const auto& [pressure, step] : spent) {
      passed += step;
      if (passed < 0.05 * all) continue;
      pressures.least = std::min(pressures.least, pressure);
      pressures.most = std::max(pressures.most, pressure);
      if (passed > 0.95 * all) break;
    }
  }
  return pressures;
}

Start start_of(const std::vector<Shot>& shots) {
  Start start;
  const auto count = static_cast<double>(shots.size());
  for (const Shot& shot : shots) {
    const OneStart one = start_of(shot);
    start.ln_rate += one.ln_rate / count;
    start.ln_gain += one.ln_gain / count;
    start.about += one.pressure / count;
    start.moments.push_back(one.moment);
  }
  return start;
}

}  // namespace grainwright
