// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/gas_side.hpp"

#include <cmath>

#include "grainwright/motor/gas.hpp"

namespace grainwright {

ChamberGas estimated_gas(const Propellant& propellant, double temperature) {
  ChamberGas gas{.temperature = temperature > 0 ? temperature : propellant.flame_temperature,
                 .gamma = propellant.gamma,
                 .characteristic_velocity = propellant.characteristic_velocity};
  const double flow = choked_flow_function(gas.gamma) * gas.characteristic_velocity;
  const double molar_mass = propellant.molar_mass > 0
                                ? propellant.molar_mass
                                : gas_constant * gas.temperature / (flow * flow);
  gas.specific_heat = gas.gamma / (gas.gamma - 1) * gas_constant / molar_mass;
  gas.prandtl = 4 * gas.gamma / (9 * gas.gamma - 5);
  gas.viscosity = 1.184081e-7 * std::sqrt(1e3 * molar_mass) * std::pow(gas.temperature, 0.6);
  return gas;
}

double bartz_coefficient(const ChamberGas& gas, double throat_diameter, double throat_curvature,
                         double pressure, Station station, double wall_temperature) {
  const double warmth = 1 + (gas.gamma - 1) / 2 * station.mach * station.mach;
  const double layer = 0.5 * wall_temperature / gas.temperature * warmth + 0.5;
  const double sigma = 1 / (std::pow(layer, 0.68) * std::pow(warmth, 0.12));
  const double properties =
      std::pow(gas.viscosity, 0.2) * gas.specific_heat / std::pow(gas.prandtl, 0.6);
  return 0.026 / std::pow(throat_diameter, 0.2) * properties *
         std::pow(pressure / gas.characteristic_velocity, 0.8) *
         std::pow(throat_diameter / throat_curvature, 0.1) * std::pow(station.area_ratio, -0.9) *
         sigma;
}

double pipe_flow_coefficient(const ChamberGas& gas, double mass_flux, double diameter) {
  return 0.023 * std::pow(mass_flux, 0.8) * gas.specific_heat * std::pow(gas.viscosity, 0.2) *
         std::pow(gas.prandtl, -0.6) * std::pow(diameter, -0.2);
}

double recovery_temperature(const ChamberGas& gas, double mach) {
  const double rise = (gas.gamma - 1) / 2 * mach * mach;
  return gas.temperature * (1 + std::cbrt(gas.prandtl) * rise) / (1 + rise);
}

}  // namespace grainwright
