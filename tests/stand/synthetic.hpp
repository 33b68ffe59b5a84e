// SPDX-License-Identifier: GPL-3.0-or-later
//
// An invented motor, and logs made up from its firing.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "grainwright/polyline.hpp"
#include "grainwright/stand/fit.hpp"
#include "support/invented.hpp"

namespace synthetic {

namespace gw = grainwright;
inline constexpr double mm = 1e-3;

/// A single pour, whose pressure more than doubles.
inline gw::Motor motor(double throat = 12 * mm) {
  return {.grain = {.layers = {{.segment = {.length = 150 * mm,
                                            .outer_diameter = 38 * mm,
                                            .core_diameter = 14 * mm},
                                .count = 1}}},
          .propellant = invented::propellant(0.3),
          .nozzle = {.throat_diameter = throat, .exit_diameter = 2 * throat, .efficiency = 0.9}};
}

/// Three segments that burn evenly.
inline gw::Motor even_motor(double throat = 12 * mm) {
  gw::Motor even = motor(throat);
  even.grain.layers = {
      {.segment = {.length = 64 * mm, .outer_diameter = 38 * mm, .core_diameter = 14 * mm},
       .count = 3}};
  even.grain.spacer = 2 * mm;
  return even;
}

struct Noisy {
  double rate = 1000;         // Hz
  double noise = 0;           // N
  double tare = 0;            // N
  double drift = 0;           // N/s
  double lit = 0.5;           // s of the log
  double lasts = 3;           // s
  double weight = 0;          // N, added to the reading as it burns
  double scale = 1;           // of the reading of thrust
  double clock = 1;           // logged over true time
  bool pressure = false;      // gauge
  double pressure_noise = 0;  // Pa
  unsigned seed = 1;
};

/// The log of a motor's firing.
inline gw::Log log_of(const gw::Motor& motor, const Noisy& how) {
  const gw::Firing firing = gw::fire_transient(motor);
  const gw::Curve& curve = firing.curve;
  std::vector<double> impulse(curve.time.size(), 0);
  for (std::size_t i = 1; i < impulse.size(); ++i) {
    impulse[i] = impulse[i - 1] +
                 (curve.time[i] - curve.time[i - 1]) * (curve.thrust[i] + curve.thrust[i - 1]) / 2;
  }
  std::mt19937_64 engine(how.seed);
  std::normal_distribution<double> normal;
  gw::Log log;
  for (std::size_t i = 0; static_cast<double>(i) < how.lasts * how.rate; ++i) {
    const double t = static_cast<double>(i) / how.rate;
    const double burned =
        t - how.lit > curve.time.back()
            ? 1
            : gw::polyline_at(curve.time, impulse, t - how.lit, 0) / impulse.back();
    log.time.push_back(how.clock * t);
    log.force.push_back(how.scale * gw::polyline_at(curve.time, curve.thrust, t - how.lit, 0) +
                        how.tare + how.drift * t + how.weight * burned +
                        how.noise * normal(engine));
    if (how.pressure) {
      const double ambient = motor.day.ambient_pressure;
      log.pressure.push_back(gw::polyline_at(curve.time, curve.pressure, t - how.lit, ambient) -
                             ambient + how.pressure_noise * normal(engine));
    }
    log.line.push_back(static_cast<std::uint32_t>(i + 2));
  }
  log.rows = log.time.size();
  return log;
}

/// A log of a made-up shape, 0 before 0 and after its end.
template <class Shape>
gw::Log log_of_shape(Shape&& shape, double from, double to, double step) {
  gw::Log log;
  const auto count = static_cast<std::size_t>(std::lround((to - from) / step)) + 1;
  for (std::size_t i = 0; i < count; ++i) {
    const double t = from + static_cast<double>(i) * step;
    log.time.push_back(t);
    log.force.push_back(shape(t));
    log.line.push_back(static_cast<std::uint32_t>(i + 1));
  }
  log.rows = count;
  return log;
}

}  // namespace synthetic
