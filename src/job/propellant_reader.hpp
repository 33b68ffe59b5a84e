// SPDX-License-Identifier: GPL-3.0-or-later
//
// Propellants out of tables: a job's own, a shipped one, or a shipped one with some data replaced.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/assessment/assessment.hpp"
#include "grainwright/motor/propellant.hpp"
#include "section.hpp"

namespace grainwright {

/// What one table says, and no more. Units as in Propellant.
struct PropellantDraft {
  std::string name;
  std::optional<double> density;
  std::optional<double> density_ratio;
  std::optional<double> characteristic_velocity;
  std::optional<double> gamma;
  std::optional<double> expansion_gamma;
  std::optional<double> temperature_sensitivity;
  std::optional<double> reference_temperature;
  std::optional<double> flame_temperature;
  std::optional<double> molar_mass;
  std::vector<LawPiece> law;        ///< empty where it says nothing
  bool law_without_at = false;      ///< a piece of it leaves out the pressure of its rate
  std::vector<Ingredient> formula;  ///< likewise
  std::optional<Erosion> erosion;
  std::optional<Measured> measured;
  std::optional<WebFactor> web_factor;
};

[[nodiscard]] PropellantDraft read_draft(Section& section);
/// The first draft, with the second's data where it says nothing.
[[nodiscard]] PropellantDraft over(PropellantDraft draft, const PropellantDraft& under);
/// Notes in `section` what is missing or cannot be; then nothing.
[[nodiscard]] std::optional<Propellant> finished(const PropellantDraft& draft, Section& section);

/// The job's propellant: its table, over the shipped data of that name if there are any. What it
/// leaves to be taken for granted is added to `assumed`.
[[nodiscard]] std::optional<Propellant> read_propellant(Section& section,
                                                        std::vector<Assumption>& assumed);

/// The shipped drafts. Throws InputError where the shipped data are faulty.
[[nodiscard]] std::vector<PropellantDraft> shipped_drafts();
/// src/job/propellants.toml, embedded at build.
extern const std::string_view shipped_propellant_data;

}  // namespace grainwright
