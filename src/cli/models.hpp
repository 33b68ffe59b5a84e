// SPDX-License-Identifier: GPL-3.0-or-later
//
// The models of a firing in words: which one was asked for, what it adds, and where the others
// differ.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grainwright/assessment/assessment.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// Throws InputError that names --model.
[[nodiscard]] Model read_model(const std::string& name);

/// Figures that differ by more than this between models deserve a line.
inline constexpr double worth_a_line = 0.03;

/// What the models say that were not asked for, where they differ from this firing.
[[nodiscard]] std::vector<std::string> differences(const Assessment& found, Model shown,
                                                   const Summary& of_it, UnitSystem units);

/// "peak pressure, head end: 3.41 MPa abs, the highest of all models (axial)".
[[nodiscard]] std::string headline_pressure(const Assessment& found, UnitSystem units);

/// Ignition and tail, where this firing has them.
void tell_transient(Page& page, const Firing& firing, UnitSystem units);
/// The flow along the ports.
void tell_ports(Page& page, const Assessment& found, UnitSystem units);

}  // namespace grainwright::cli
