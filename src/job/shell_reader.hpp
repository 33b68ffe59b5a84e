// SPDX-License-Identifier: GPL-3.0-or-later
//
// What holds the pressure in: [casing] material, [closure.head], [closure.nozzle], [heat].
#pragma once

#include <optional>
#include <vector>

#include "grainwright/motor/casing.hpp"
#include "grainwright/strength/margins.hpp"
#include "section.hpp"

namespace grainwright {

/// The shell around a casing; nothing where the file does not say what the pipe is made of, or says
/// it wrongly.
[[nodiscard]] std::optional<Shell> read_shell(Section& root, Section* casing_section,
                                              const std::optional<Casing>& casing, double factor);

}  // namespace grainwright
