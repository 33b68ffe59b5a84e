// SPDX-License-Identifier: GPL-3.0-or-later
//
// Invented airframes, pushes and airs whose flights are known in closed form.
#pragma once

#include "grainwright/flight/flight.hpp"

namespace flights {

using namespace grainwright;

/// No drag, and a short rail.
inline Airframe sled(double mass, double rail) {
  return {.mass = mass, .hardware = 0, .diameter = 0.06, .drag = {{0, 0}}, .rail_length = rail};
}

/// Heavy for a small motor, with drag that rises toward the speed of sound.
inline Airframe heron() {
  return {.mass = 4,
          .hardware = 1,
          .diameter = 0.08,
          .drag = {{0, 0.5}, {0.8, 0.55}, {1.1, 0.8}},
          .rail_length = 2};
}

/// The same thrust throughout, and propellant that leaves evenly.
inline Propulsion constant(double thrust, double seconds, double propellant) {
  return {.time = {0, seconds},
          .thrust = {thrust, thrust},
          .propellant = {propellant, 0},
          .flows_full = {0, 0},
          .burnout = seconds};
}

/// The same density at all heights.
inline Air even_air(double) {
  return {.temperature = 288.15, .pressure = 101325, .density = 1.225, .speed_of_sound = 340.3};
}

}  // namespace flights
