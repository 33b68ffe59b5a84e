// SPDX-License-Identifier: GPL-3.0-or-later
//
// An invented motor for the tests of scatters, and tolerances of which one strays at a time.
#pragma once

#include "grainwright/firing/steady.hpp"
#include "grainwright/scatter/scatter.hpp"
#include "support/invented.hpp"

namespace motors {

inline constexpr double mm = 1e-3;
inline constexpr double mpa = 1e6;
inline constexpr double exponent = 0.32;

/// In a vacuum, so that pressures are powers of what strays.
inline grainwright::Motor motor() {
  grainwright::Motor motor{
      .grain = invented::three_pours(),
      .propellant = invented::hot_propellant(exponent),
      .nozzle = {.throat_diameter = 11 * mm, .exit_diameter = 22 * mm, .efficiency = 0.85},
      .day = {.ambient_pressure = 0}};
  motor.propellant.temperature_sensitivity = 0.002;
  return motor;
}

/// Nothing strays.
inline grainwright::Tolerances exact() {
  grainwright::Tolerances tolerances;
  for (const auto& tolerance : grainwright::named_tolerances()) {
    tolerances.*tolerance.spread = {.sigma = 0};
  }
  return tolerances;
}

inline grainwright::Spread normal(double share) {
  return {grainwright::Distribution::normal, share, true};
}

/// A pipe as strong cold as hot, of material that holds this pressure (Pa).
inline grainwright::Shell shell_that_holds(double pressure) {
  grainwright::Shell shell;
  shell.tube = {.outer_diameter = 50 * mm, .wall = 4 * mm};
  shell.material = {.name = "tame", .conductivity = 0.16, .density = 1400, .specific_heat = 880};
  shell.material.burst_stress =
      pressure * (shell.tube.outer_diameter - shell.tube.wall) / (2 * shell.tube.wall);
  shell.liner = {
      {{.name = "liner", .conductivity = 0.18, .density = 930, .specific_heat = 1340}, 1.5 * mm}};
  return shell;
}

}  // namespace motors
