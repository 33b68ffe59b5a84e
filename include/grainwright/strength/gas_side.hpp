// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the gas gives to a wall: heat transfer coefficients. All of them are estimates; for small
// motors no published measurement was found, and Bartz's formula is known to give too much.
#pragma once

#include "grainwright/motor/propellant.hpp"

namespace grainwright {

/// The gas in the chamber.
struct ChamberGas {
  double temperature = 0;              ///< K, stagnation
  double specific_heat = 0;            ///< J/(kg K)
  double viscosity = 0;                ///< Pa s
  double prandtl = 0;                  ///< number
  double gamma = 0;                    ///< ratio of specific heats
  double characteristic_velocity = 0;  ///< m/s
};

/// From a propellant's c*, gamma and flame temperature (or another one, K): cp = gamma/(gamma-1) R;
/// Prandtl number 4 gamma/(9 gamma - 5) and viscosity 1.184e-7 M^0.5 T^0.6 Pa s as Bartz (1957)
/// gives them (from memory). M is the propellant's molar mass, else what c* says.
[[nodiscard]] ChamberGas estimated_gas(const Propellant& propellant, double temperature = 0);

/// Where in the nozzle or before it: the local area over the throat's, and its Mach number.
struct Station {
  double area_ratio = 1;
  double mach = 1;
};

/// W/(m2 K). D. R. Bartz, A Simple Equation for Rapid Estimation of Rocket Nozzle Convective Heat
/// Transfer Coefficients, Jet Propulsion 27, 1957 (from memory), in SI. A formula for the throat:
/// in the chamber it gives about a third more than pipe flow would. Lengths in m, pressure in Pa,
/// the wall's temperature in K.
[[nodiscard]] double bartz_coefficient(const ChamberGas& gas, double throat_diameter,
                                       double throat_curvature, double pressure, Station station,
                                       double wall_temperature);

/// W/(m2 K) of turbulent flow in a pipe, Nu = 0.023 Re^0.8 Pr^0.4 (Dittus & Boelter). Mass flux in
/// kg/(m2 s), diameter in m.
[[nodiscard]] double pipe_flow_coefficient(const ChamberGas& gas, double mass_flux,
                                           double diameter);

/// K: what a wall would come to, with a recovery factor of Pr^(1/3).
[[nodiscard]] double recovery_temperature(const ChamberGas& gas, double mach);

}  // namespace grainwright
