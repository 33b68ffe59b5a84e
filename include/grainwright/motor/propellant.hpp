// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a propellant is to this program: a density, a gas and a burn law.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "grainwright/motor/burn_law.hpp"
#include "grainwright/motor/erosion.hpp"
#include "grainwright/motor/measured.hpp"
#include "grainwright/motor/web_factor.hpp"

namespace grainwright {

/// A part of the formula, for splitting a batch by mass. No more is said about it than that.
struct Ingredient {
  std::string name;
  double mass_fraction = 0;
  bool operator==(const Ingredient&) const = default;
};

/// A propellant as ballistics sees it.
struct Propellant {
  std::string name;
  double ideal_density = 0;            ///< kg/m3, without voids
  double density_ratio = 1;            ///< as cast / ideal, (0, 1]
  double characteristic_velocity = 0;  ///< m/s
  double gamma = 0;                    ///< of the mixture in the chamber, > 1
  double expansion_gamma = 0;          ///< of the expanding exhaust; lower where it carries solids
  double temperature_sensitivity = 0;  ///< sigma_p, 1/K: rate grows by exp(sigma_p (T - reference))
  bool sensitivity_known = false;  ///< whether a sensitivity of 0 is one, and not just not known
  double reference_temperature = 293.15;  ///< K, at which the law was measured
  double flame_temperature = 0;           ///< K; 0 where unknown
  double molar_mass = 0;                  ///< kg/mol of gas, effective; 0 where unknown
  BurnLaw law;
  std::vector<Ingredient> formula = {};      ///< mass fractions adding to 1, or empty
  std::optional<Erosion> erosion = {};       ///< constants of erosive burning, where known
  std::optional<Measured> measured = {};     ///< where the law comes from a stand
  std::optional<WebFactor> web_factor = {};  ///< where the rate changes along the web

  /// As cast, kg/m3.
  [[nodiscard]] double density() const { return ideal_density * density_ratio; }
  /// R T0 of the chamber gas, J/kg: what c* and gamma say of it.
  [[nodiscard]] double gas_heat() const;
  /// The law at a grain temperature in K.
  [[nodiscard]] BurnLaw law_at(double temperature) const;
};

[[nodiscard]] std::vector<Complaint> complaints(const Propellant& propellant);

}  // namespace grainwright
