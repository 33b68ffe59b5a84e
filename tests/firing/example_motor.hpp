// SPDX-License-Identifier: GPL-3.0-or-later
//
// Motors that several firing tests share.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "grainwright/firing/steady.hpp"

namespace example {

using namespace grainwright;

/// 4 segments, outside 50 mm, core 20 mm, length 85 mm (the even length), both ends bare; throat
/// 14 mm, expansion ratio 6, no losses; a gas of gamma 1.2, c* 1500 m/s, 1770 kg/m3,
/// r = 3 mm/s (P/MPa)^0.35; sea level. Its figures follow from these numbers by closed forms and
/// one quadrature, which tests/reference does again.
inline Motor whole_motor() {
  Propellant propellant{.name = "example",
                        .ideal_density = 1770,
                        .characteristic_velocity = 1500,
                        .gamma = 1.2,
                        .expansion_gamma = 1.2,
                        .law = BurnLaw({{.rate = 3e-3, .at = 1e6, .exponent = 0.35}})};
  Segment segment{.length = 0.085, .outer_diameter = 0.05, .core_diameter = 0.02};
  return {.grain = {.layers = {{.segment = segment, .count = 4}}},
          .propellant = propellant,
          .nozzle = {.throat_diameter = 0.014, .exit_diameter = 0.014 * std::sqrt(6.0)}};
}

/// Five pieces that do not quite meet: down, down, up, down, as strand-burner laws are published.
inline std::vector<LawPiece> five_pieces() {
  return {{.rate = 8.875e-3, .at = 1e6, .exponent = 0.619, .from = 0.103e6, .to = 0.779e6},
          {.rate = 7.553e-3, .at = 1e6, .exponent = -0.009, .from = 0.779e6, .to = 2.57e6},
          {.rate = 3.841e-3, .at = 1e6, .exponent = 0.688, .from = 2.57e6, .to = 5.93e6},
          {.rate = 17.20e-3, .at = 1e6, .exponent = -0.148, .from = 5.93e6, .to = 8.50e6},
          {.rate = 4.775e-3, .at = 1e6, .exponent = 0.442, .from = 8.50e6, .to = 11.20e6}};
}

/// A propellant with that law.
inline Propellant five_piece_propellant() {
  return {.name = "five pieces",
          .ideal_density = 1879,
          .density_ratio = 0.95,
          .characteristic_velocity = 912,
          .gamma = 1.1308,
          .expansion_gamma = 1.043,
          .law = BurnLaw(five_pieces())};
}

/// Four unlike segments, one of each sort that a stack can hold.
inline Grain unlike_stack() {
  auto piece = [](double length, double core, Faces inhibited) {
    return Layer{
        {.length = length, .outer_diameter = 0.05, .core_diameter = core, .inhibited = inhibited},
        1};
  };
  return {.layers = {piece(0.085, 0.020, {Face::outer}), piece(0.060, 0.016, {Face::outer}),
                     piece(0.110, 0.022, {Face::outer, Face::head}),
                     piece(0.040, 0.024, {Face::outer, Face::head, Face::nozzle})}};
}

inline constexpr double psi = 6894.757293168361;
inline constexpr double inch = 0.0254;
inline constexpr double pound_force = 4.4482216152605;

}  // namespace example
