// SPDX-License-Identifier: GPL-3.0-or-later
//
// What strays and what goes wrong: [tolerance] and [[fault]].
#pragma once

#include <vector>

#include "grainwright/scatter/fault.hpp"
#include "grainwright/scatter/tolerances.hpp"
#include "section.hpp"

namespace grainwright {

/// Trade practice where the table says nothing.
[[nodiscard]] Tolerances read_tolerances(Section& section);

/// Checked for what each kind needs; against the motor it is checked when there is one.
[[nodiscard]] std::vector<Fault> read_faults(Section& root);

}  // namespace grainwright
