// SPDX-License-Identifier: GPL-3.0-or-later
//
// What needs whole curves, at fewer firings: the band of thrust over time, the rail, and the check
// of the quick reckoning of heat.
#pragma once

#include "replicate.hpp"

namespace grainwright {

/// Fills in the thrust band, the rail speed and the check of heat. `result` has its percentiles.
void trace(const ScatterGround& ground, const ScatterTask& task, unsigned threads,
           ScatterResult& result);

}  // namespace grainwright
