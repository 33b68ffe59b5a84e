// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/gas.hpp"

#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <tuple>

namespace grainwright {
namespace {

// Solves area_ratio(M) = ratio from a start on the wanted branch. In u = ln M the logarithm of the
// ratio has slope (M^2 - 1)/(1 + (gamma-1)/2 M^2), so Newton's method needs a few steps.
double mach_of_area_ratio(double ratio, double gamma, double start, double low, double high) {
  const auto residual = [&](double u) {
    const double mach = std::exp(u);
    const double slope = (mach * mach - 1) / (1 + (gamma - 1) / 2 * mach * mach);
    return std::make_tuple(std::log(area_ratio(mach, gamma) / ratio), slope);
  };
  std::uintmax_t steps = 100;
  return std::exp(boost::math::tools::newton_raphson_iterate(
      residual, std::log(start), std::log(low), std::log(high), 52, steps));
}

}  // namespace

double pressure_ratio(double mach, double gamma) {
  return std::pow(1 + (gamma - 1) / 2 * mach * mach, -gamma / (gamma - 1));
}

double mach_of_pressure_ratio(double ratio, double gamma) {
  return std::sqrt(2 / (gamma - 1) * std::expm1(-(gamma - 1) / gamma * std::log(ratio)));
}

double area_ratio(double mach, double gamma) {
  const double stagnation = 1 + (gamma - 1) / 2 * mach * mach;
  return std::pow(2 / (gamma + 1) * stagnation, (gamma + 1) / (2 * (gamma - 1))) / mach;
}

double supersonic_mach(double ratio, double gamma) {
  if (ratio <= 1) return 1;
  return mach_of_area_ratio(ratio, gamma, 1 + std::sqrt(ratio - 1), 1, 1e6);
}

double subsonic_mach(double ratio, double gamma) {
  if (ratio <= 1) return 1;
  return mach_of_area_ratio(ratio, gamma, 0.5 / ratio, 1e-300, 1);
}

double choked_flow_function(double gamma) {
  return std::sqrt(gamma) * std::pow(2 / (gamma + 1), (gamma + 1) / (2 * (gamma - 1)));
}

double characteristic_velocity(double flame_temperature, double molar_mass, double gamma) {
  return std::sqrt(gas_constant / molar_mass * flame_temperature) / choked_flow_function(gamma);
}

}  // namespace grainwright
