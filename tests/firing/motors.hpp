// SPDX-License-Identifier: GPL-3.0-or-later
//
// Motors for the transient and the axial firing.
#pragma once

#include <cmath>

#include "grainwright/motor/motor.hpp"

namespace motors {

using namespace grainwright;

/// One law, one gas: gamma 1.2, c* 1500 m/s, 1770 kg/m3, r = 3 mm/s (P/MPa)^n.
inline Propellant plain(double exponent = 0.35) {
  return {.name = "plain",
          .ideal_density = 1770,
          .characteristic_velocity = 1500,
          .gamma = 1.2,
          .expansion_gamma = 1.2,
          .law = BurnLaw({{.rate = 3e-3, .at = 1e6, .exponent = exponent}})};
}

inline Nozzle nozzle(double throat) {
  return {.throat_diameter = throat, .exit_diameter = throat * std::sqrt(6.0)};
}

/// Four segments of 50 x 20 x 85 mm, both ends bare, 2 mm apart; throat 14 mm.
inline Motor four_segments() {
  return {
      .grain = {.layers = {{{.length = 0.085, .outer_diameter = 0.05, .core_diameter = 0.02}, 4}},
                .spacer = 2e-3},
      .propellant = plain(),
      .nozzle = nozzle(0.014)};
}

/// One long pour, ends inhibited, whose port is so many times the throat.
inline Motor mono_core(double port_to_throat, double exponent = 0.35) {
  return {.grain = {.layers = {{{.length = 0.4,
                                 .outer_diameter = 0.05,
                                 .core_diameter = 0.02,
                                 .inhibited = {Face::outer, Face::head, Face::nozzle}},
                                1}}},
          .propellant = plain(exponent),
          .nozzle = nozzle(0.02 / std::sqrt(port_to_throat))};
}

/// Burns at its nozzle end only.
inline Motor end_burner(double throat) {
  return {.grain = {.layers = {{{.length = 0.08,
                                 .outer_diameter = 0.04,
                                 .inhibited = {Face::outer, Face::head}},
                                1}}},
          .propellant = plain(),
          .nozzle = nozzle(throat)};
}

/// Unlike segments that burn out one after the other.
inline Motor unlike() {
  Motor motor = four_segments();
  motor.grain.layers = {{{.length = 0.085, .outer_diameter = 0.05, .core_diameter = 0.020}, 1},
                        {{.length = 0.060, .outer_diameter = 0.05, .core_diameter = 0.024}, 2},
                        {{.length = 0.110,
                          .outer_diameter = 0.05,
                          .core_diameter = 0.026,
                          .inhibited = {Face::outer, Face::head}},
                         1}};
  return motor;
}

/// Five pieces that do not quite meet, as strand-burner laws are published.
inline Propellant five_pieces() {
  Propellant propellant = plain();
  propellant.characteristic_velocity = 912;
  propellant.gamma = 1.1308;
  propellant.expansion_gamma = 1.043;
  propellant.law =
      BurnLaw({{.rate = 8.875e-3, .at = 1e6, .exponent = 0.619, .from = 0.103e6, .to = 0.779e6},
               {.rate = 7.553e-3, .at = 1e6, .exponent = -0.009, .from = 0.779e6, .to = 2.57e6},
               {.rate = 3.841e-3, .at = 1e6, .exponent = 0.688, .from = 2.57e6, .to = 5.93e6},
               {.rate = 17.20e-3, .at = 1e6, .exponent = -0.148, .from = 5.93e6, .to = 8.50e6},
               {.rate = 4.775e-3, .at = 1e6, .exponent = 0.442, .from = 8.50e6, .to = 11.20e6}});
  return propellant;
}

/// Area under a column, by straight lines.
inline double under(const std::vector<double>& time, const std::vector<double>& value) {
  double sum = 0;
  for (std::size_t i = 1; i < time.size(); ++i) {
    sum += (time[i] - time[i - 1]) * (value[i] + value[i - 1]) / 2;
  }
  return sum;
}

}  // namespace motors
