// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/propellant.hpp"

#include <cmath>

#include "grainwright/motor/gas.hpp"

namespace grainwright {
namespace {

// Mass fractions read from text must add to 1 within this.
constexpr double fraction_slack = 1e-6;

bool positive(double value) {
  return std::isfinite(value) && value > 0;
}

}  // namespace

double Propellant::gas_heat() const {
  const double speed = characteristic_velocity * choked_flow_function(gamma);
  return speed * speed;
}

BurnLaw Propellant::law_at(double temperature) const {
  const double factor = std::exp(temperature_sensitivity * (temperature - reference_temperature));
  return factor == 1 ? law : law.times(factor);
}

std::vector<Complaint> complaints(const Propellant& propellant) {
  std::vector<Complaint> found;
  const auto require = [&](bool holds, const char* key, double given, const char* allowed) {
    if (!holds) found.push_back({key, std::to_string(given), allowed});
  };
  require(positive(propellant.ideal_density), "density", propellant.ideal_density, "above zero");
  require(propellant.density_ratio > 0 && propellant.density_ratio <= 1, "density_ratio",
          propellant.density_ratio, "above 0, up to 1");
  require(positive(propellant.characteristic_velocity), "characteristic_velocity",
          propellant.characteristic_velocity, "above zero");
  require(std::isfinite(propellant.gamma) && propellant.gamma > 1, "gamma", propellant.gamma,
          "above 1");
  require(std::isfinite(propellant.expansion_gamma) && propellant.expansion_gamma > 1,
          "expansion_gamma", propellant.expansion_gamma, "above 1");
  require(std::isfinite(propellant.temperature_sensitivity), "temperature_sensitivity",
          propellant.temperature_sensitivity, "a finite number");
  require(positive(propellant.reference_temperature), "reference_temperature",
          propellant.reference_temperature, "above absolute zero");
  if (propellant.erosion) {
    require(positive(propellant.erosion->alpha), "erosion.alpha", propellant.erosion->alpha,
            "above zero");
    require(std::isfinite(propellant.erosion->beta) && propellant.erosion->beta >= 0,
            "erosion.beta", propellant.erosion->beta, "0 or more");
  }
  if (propellant.web_factor) {
    const auto wrong = complaints(*propellant.web_factor);
    found.insert(found.end(), wrong.begin(), wrong.end());
  }
  double sum = 0;
  for (const Ingredient& ingredient : propellant.formula) {
    require(ingredient.mass_fraction >= 0, "formula", ingredient.mass_fraction, "0 or more");
    sum += ingredient.mass_fraction;
  }
  if (!propellant.formula.empty()) {
    require(std::abs(sum - 1) <= fraction_slack, "formula", sum, "mass fractions that add to 1");
  }
  return found;
}

}  // namespace grainwright
