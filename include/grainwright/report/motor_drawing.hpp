// SPDX-License-Identifier: GPL-3.0-or-later
//
// The motor in section, to scale, as SVG: pipe, closures with what protects them, casting tubes,
// segments with their bare and inhibited faces, gaps, nozzle. What the job does not say is drawn
// dashed. Colours come from the page by class, so that one drawing serves light, dark and paper.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "grainwright/motor/casing.hpp"
#include "grainwright/motor/motor.hpp"
#include "grainwright/quantity.hpp"
#include "grainwright/strength/margins.hpp"

namespace grainwright {

/// What is drawn. Where the casing is not known the segments and the nozzle stand alone.
struct MotorParts {
  Motor motor;
  std::optional<Casing> casing = {};
  std::optional<Shell> shell = {};  ///< for the closures
  UnitSystem units = UnitSystem::us;
};

/// The whole drawing with sizes, before lighting. `contours` are webs (m) at which the front is
/// traced inside the propellant. The paths of the propellant, of the burning faces and of the
/// contours have the ids `propellant`, `front` and `contours`, for a page that moves them: one such
/// drawing a page.
[[nodiscard]] std::string motor_svg(const MotorParts& parts, const std::vector<double>& contours);

/// Pipe and grain alone after `web` metres have burned, for a row of small drawings.
[[nodiscard]] std::string motor_still(const MotorParts& parts, double web);

/// The propellant that is left, and its burning faces, as path data in the units of `motor_svg`.
struct SectionPaths {
  std::string propellant;
  std::string front;
};
/// After so many metres of web each.
[[nodiscard]] std::vector<SectionPaths> grain_sections(const MotorParts& parts,
                                                       const std::vector<double>& webs);

/// The drawing in words, for a reader who cannot see it.
[[nodiscard]] std::string motor_words(const MotorParts& parts);

}  // namespace grainwright
