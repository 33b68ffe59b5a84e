// SPDX-License-Identifier: GPL-3.0-or-later
//
// Small invented shops for the search tests.
#pragma once

#include "grainwright/search/search.hpp"

namespace shops {

inline constexpr double mm = 1e-3;

/// A short room, two rods, two throats and a coarse saw: small enough to search by brute force.
inline grainwright::SearchTask small() {
  grainwright::SearchTask task{
      .propellant = {.name = "invented",
                     .ideal_density = 1800,
                     .density_ratio = 0.95,
                     .characteristic_velocity = 900,
                     .gamma = 1.13,
                     .expansion_gamma = 1.05,
                     .law = grainwright::BurnLaw({{.rate = 8e-3, .at = 1e6, .exponent = 0.32}})},
      .nozzle = {.throat_diameter = 8 * mm,
                 .exit_diameter = 16 * mm,
                 .half_angle = 0.26,
                 .efficiency = 0.9},
      .outer_diameter = 38 * mm,
      .grain_room = 120 * mm};
  task.shop.mandrels = {10 * mm, 16 * mm};
  task.shop.throats = {8 * mm, 10 * mm};
  task.shop.length_step = 10 * mm;
  task.shop.spacer = 2 * mm;
  task.shop.most_segments = 4;
  task.shop.shortest_segment = 20 * mm;
  return task;
}

/// A law of several pieces with both kinds of joint.
inline grainwright::BurnLaw pieced_law() {
  return grainwright::BurnLaw({
      {.rate = 10.7e-3, .at = 1e6, .exponent = 0.62, .from = 0.1e6, .to = 0.8e6},
      {.rate = 8.7e-3, .at = 1e6, .exponent = -0.3, .from = 0.8e6, .to = 1.5e6},
      {.rate = 7.9e-3, .at = 1e6, .exponent = 0.0, .from = 1.5e6, .to = 3.8e6},
      {.rate = 3.9e-3, .at = 1e6, .exponent = 0.53, .from = 3.8e6, .to = 7.0e6},
  });
}

}  // namespace shops
