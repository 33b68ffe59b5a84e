// SPDX-License-Identifier: GPL-3.0-or-later
//
// The result of one predicted firing: figures, curve and remarks. Every model of this room gives
// it.
#pragma once

#include <string>
#include <vector>

namespace grainwright {

/// Figures of a firing. SI; pressures absolute.
struct Summary {
  double initial_burning_area = 0;  ///< m2
  double peak_burning_area = 0;
  double initial_kn = 0;  ///< burning area / throat area
  double peak_kn = 0;
  double initial_pressure = 0;  ///< Pa
  double peak_pressure = 0;
  double mean_pressure = 0;    ///< over the burn time
  double lowest_pressure = 0;  ///< while anything burns
  double initial_thrust = 0;   ///< N
  double peak_thrust = 0;
  double mean_thrust = 0;       ///< over the burn time
  double burn_time = 0;         ///< s, from lighting to the end of the last web
  double total_impulse = 0;     ///< N s
  double specific_impulse = 0;  ///< s
  double propellant_mass = 0;   ///< kg
  std::string letter_class;     ///< "K"
  double port_to_throat = 0;    ///< smallest port area at lighting / throat area; 0 without a port
  double peak_mass_flux = 0;    ///< kg/(m2 s), in the busiest port; 0 without a port
  double neutrality = 0;        ///< peak thrust / mean thrust

  bool operator==(const Summary&) const = default;
};

/// The firing over time; columns of equal length.
struct Curve {
  std::vector<double> time;          ///< s
  std::vector<double> web;           ///< m
  std::vector<double> burning_area;  ///< m2
  std::vector<double> kn;
  std::vector<double> pressure;  ///< Pa, absolute
  std::vector<double> thrust;    ///< N
};

struct Firing {
  Summary summary;
  Curve curve;
  /// What a reader of the figures must know: outside the law's range, separated flow, ...
  std::vector<std::string> remarks;
};

/// Letter class of a total impulse in N s: class k reaches up to 2.5 * 2^k (A is k = 0), limits
/// belonging to the class below; "1/2A" and "1/4A" under A, "under 1/4A" and "over Z" outside. Rounded
/// first as the published table prints: to 0.01 N s, under A to 0.001.
/// Source: class table of NFPA 1125 (from memory), as printed in general references.
[[nodiscard]] std::string letter_class(double total_impulse);

}  // namespace grainwright
