// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "firing/example_motor.hpp"
#include "grainwright/search/search.hpp"

namespace shop {

using namespace grainwright;
using example::inch;

/// Two kinds, up to 6 segments, 5 mandrels, 10 throats, 1/16 in on 7.5 in; a burn law of one piece
/// or of five.
inline SearchTask task(bool five_pieces) {
  SearchTask wanted{
      .propellant = five_pieces
                        ? example::five_piece_propellant()
                        : Propellant{.name = "one piece",
                                     .ideal_density = 1889,
                                     .density_ratio = 0.95,
                                     .characteristic_velocity = 900,
                                     .gamma = 1.133,
                                     .expansion_gamma = 1.044,
                                     .law = BurnLaw({{.rate = 8.26e-3, .exponent = 0.319}})},
      .nozzle = {.throat_diameter = 0.375 * inch,
                 .exit_diameter = 0.75 * inch,
                 .half_angle = 0.2618,
                 .efficiency = 0.85},
      .outer_diameter = 1.45 * inch,
      .grain_room = 7.5 * inch,
      .shop = {},
      .limits = {},
      .wish = {}};
  wanted.shop.mandrels = {0.375 * inch, 0.5 * inch, 0.625 * inch, 0.75 * inch, 0.875 * inch};
  for (int sixty_fourths = 18; sixty_fourths < 28; ++sixty_fourths) {
    wanted.shop.throats.push_back(sixty_fourths * inch / 64);
  }
  wanted.shop.length_step = inch / 16;
  wanted.shop.spacer = inch / 16;
  wanted.shop.shortest_segment = 0.75 * inch;
  wanted.limits.pressure = 4e6;
  wanted.limits.port_to_throat = 2;
  wanted.wish.loading = 0.75;
  return wanted;
}

}  // namespace shop
