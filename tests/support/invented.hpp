// SPDX-License-Identifier: GPL-3.0-or-later
//
// Invented stuff that the motors of several rooms' tests are made of.
#pragma once

#include "grainwright/motor/motor.hpp"

namespace invented {

/// One law in one piece, near those of sugar propellants.
inline grainwright::Propellant propellant(double exponent) {
  return {.name = "invented",
          .ideal_density = 1840,
          .density_ratio = 0.95,
          .characteristic_velocity = 900,
          .gamma = 1.136,
          .expansion_gamma = 1.05,
          .law = grainwright::BurnLaw({{.rate = 8e-3, .at = 1e6, .exponent = exponent}})};
}

/// With a flame that heats what holds it.
inline grainwright::Propellant hot_propellant(double exponent) {
  grainwright::Propellant hot = propellant(exponent);
  hot.flame_temperature = 1600;
  hot.molar_mass = 0.0399;
  return hot;
}

/// Three pours of 60 mm, 2 mm apart.
inline grainwright::Grain three_pours() {
  return {.layers = {{.segment = {.length = 0.060, .outer_diameter = 0.038, .core_diameter = 0.012},
                      .count = 3}},
          .spacer = 0.002};
}

}  // namespace invented
