// SPDX-License-Identifier: GPL-3.0-or-later
//
// The result of one predicted firing: figures, curve and remarks. Every model of this room gives
// it.
#pragma once

#include <cstddef>
#include <optional>
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
  double lowest_pressure = 0;  ///< while more than slivers burn (Burnback::slivers_from)
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

/// What the transient model adds. Times in s from lighting, masses in kg.
struct TransientFigures {
  double igniter_pressure = 0;  ///< Pa, at lighting
  double free_volume = 0;       ///< m3, at lighting
  double filling_time = 0;      ///< s, at lighting: free volume / (R T0 At / c*)
  /// From 10 to 90 % of the pressure that the grain would hold steadily at lighting; counted from
  /// lighting where the igniter gives 10 % or more. None where 90 % is never reached.
  std::optional<double> rise_time;
  std::optional<double> delay;     ///< from lighting to those 90 %
  std::optional<double> rise_end;  ///< first moment that holds 99 % of what its web could
  double action_time = 0;          ///< between the first and the last 10 % of peak thrust
  double tail_off_time = 0;        ///< from the end of the last web to 10 % of peak thrust
  double gas_at_lighting = 0;      ///< of the igniter, in the free volume
  double gas_left = 0;             ///< in the chamber when the curve ends
  double gas_out = 0;              ///< through the throat
};

/// The port at one moment, head end first; columns of equal length.
struct PortProfile {
  double time = 0;               ///< s
  std::vector<double> position;  ///< m from the head end of the stack, middle of each slice
  std::vector<double> pressure;  ///< Pa, static
  std::vector<double> mach;
  std::vector<double> mass_flux;  ///< kg/(m2 s)
  std::vector<double> rate;       ///< m/s, of the core
  std::vector<double> web;        ///< m
};

/// A port that chokes before the throat: what is behind it is no longer ruled by the throat.
struct ChokedPort {
  std::size_t layer = 0;      ///< of the grain, counted from 0
  double time = 0;            ///< s from ignition
  double port_to_throat = 0;  ///< area of that port then / throat area
};

/// What the axial model adds.
struct AxialFigures {
  int slices = 0;               ///< of the whole stack
  double peak_port_mach = 0;    ///< greatest anywhere, any time
  double peak_head_excess = 0;  ///< greatest of head pressure / nozzle stagnation pressure - 1
  double peak_rate_gain = 1;    ///< greatest of rate / what still gas at that pressure would give
  double gas_out = 0;           ///< kg through the throat
  std::optional<ChokedPort> choked = {};  ///< the firing ends there: no such motor works as drawn
  std::vector<double>
      nozzle_pressure;                ///< Pa, stagnation at the nozzle's entry; a row a curve point
  std::vector<double> port_mach;      ///< greatest at that time
  std::vector<double> mass_flux;      ///< kg/(m2 s), likewise
  std::vector<PortProfile> profiles;  ///< some moments, from lighting to burnout
};

/// A predicted firing.
struct Firing {
  Summary summary;
  Curve curve;
  std::optional<TransientFigures> transient = {};
  std::optional<AxialFigures> axial = {};
  /// What a reader of the figures must know: outside the law's range, separated flow, ...
  std::vector<std::string> remarks;
};

/// Letter class of a total impulse in N s: class k reaches up to 2.5 * 2^k (A is k = 0), limits
/// belonging to the class below; "1/2A" and "1/4A" under A, "under 1/4A" and "over Z" outside.
/// Rounded first as the published table prints: to 0.01 N s, under A to 0.001. Source: class table
/// of NFPA 1125 (from memory), as printed in general references.
[[nodiscard]] std::string letter_class(double total_impulse);

}  // namespace grainwright
