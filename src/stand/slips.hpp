// SPDX-License-Identifier: GPL-3.0-or-later
//
// Thrust and time against what the job's propellant can give: slips with units and clocks.
#pragma once

#include <vector>

#include "grainwright/stand/doubt.hpp"
#include "grainwright/stand/fit.hpp"

namespace grainwright {

/// Impulse is mass times c* times a nozzle's coefficient, however fast it burns: a log whose
/// impulse no nozzle gives is wrong in force or in time, and the factor tells by which slip.
[[nodiscard]] std::vector<Doubt> doubts_on_strength(const std::vector<Shot>& shots, const Fit& fit);

}  // namespace grainwright
