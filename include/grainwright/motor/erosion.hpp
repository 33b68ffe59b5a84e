// SPDX-License-Identifier: GPL-3.0-or-later
//
// Erosive burning: hot gas that sweeps along a burning surface adds to its rate.
// Source: J. M. Lenoir and G. Robillard, A Mathematical Method to Predict the Effects of Erosive
// Burning in Solid-Propellant Rockets, 6th Symposium (International) on Combustion, 1957 (from
// memory): r = r0 + alpha G^0.8 L^-0.2 exp(-beta density r / G), with the mass flux G in the port
// and the length L of the grain. Some authors put the port's diameter in place of L; the constants
// then differ. Constants fitted to one propellant and port carry over to another poorly.
#pragma once

namespace grainwright {

/// The two constants of a propellant, in SI: alpha goes with G in kg/(m2 s), L in m, r in m/s.
struct Erosion {
  double alpha = 0;  ///< (m/s) (kg/(m2 s))^-0.8 m^0.2
  double beta = 53;  ///< the authors' value
  bool operator==(const Erosion&) const = default;
};

/// Rate r in m/s where still gas would give `base_rate`; with no flux it is that rate.
/// Solved for r in closed form (Lambert's W), to 1e-14.
[[nodiscard]] double eroded_rate(const Erosion& erosion, double base_rate, double density,
                                 double mass_flux, double length);

/// What alpha is made of. SI.
struct WallHeat {
  double gas_specific_heat = 0;    ///< J/(kg K), at constant pressure
  double gas_viscosity = 0;        ///< Pa s
  double gas_prandtl = 0;          ///< number
  double density = 0;              ///< kg/m3, of the propellant
  double solid_specific_heat = 0;  ///< J/(kg K)
  double flame_temperature = 0;    ///< K
  double surface_temperature = 0;  ///< K
  double grain_temperature = 0;    ///< K
};
/// alpha = 0.0288 cp mu^0.2 Pr^(-2/3) / (density cs) (T0 - Ts) / (Ts - Tp), same source.
[[nodiscard]] double erosion_alpha(const WallHeat& heat);

}  // namespace grainwright
