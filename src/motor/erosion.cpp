// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/erosion.hpp"

#include <boost/math/special_functions/lambert_w.hpp>
#include <cmath>

namespace grainwright {

double eroded_rate(const Erosion& erosion, double base_rate, double density, double mass_flux,
                   double length) {
  const double reach = erosion.beta * density;  // times r / G: how far blowing lifts the gas off
  // Past this the term is below the smallest double.
  constexpr double most_lift = 700;
  if (reach * base_rate >= most_lift * mass_flux) return base_rate;
  const double added = erosion.alpha * std::pow(mass_flux, 0.8) * std::pow(length, -0.2);
  const double steepness = reach / mass_flux;
  if (steepness == 0) return base_rate + added;
  // r - r0 = added exp(-s r)  =>  s (r - r0) exp(s (r - r0)) = s added exp(-s r0).
  const double argument = steepness * added * std::exp(-steepness * base_rate);
  return base_rate + boost::math::lambert_w0(argument) / steepness;
}

double erosion_alpha(const WallHeat& heat) {
  return 0.0288 * heat.gas_specific_heat * std::pow(heat.gas_viscosity, 0.2) *
         std::pow(heat.gas_prandtl, -2.0 / 3.0) / (heat.density * heat.solid_specific_heat) *
         (heat.flame_temperature - heat.surface_temperature) /
         (heat.surface_temperature - heat.grain_temperature);
}

}  // namespace grainwright
