// SPDX-License-Identifier: GPL-3.0-or-later
//
// From replicates to the answer.
#pragma once

#include <span>

#include "replicate.hpp"

namespace grainwright {

/// The motor as drawn but for these mistakes.
[[nodiscard]] SingleFiring fired_alone(const ScatterGround& ground,
                                       const std::optional<Airframe>& airframe, FaultSet faults);

/// Percentiles, chances, shares and the histogram. At least one replicate.
void sum_up(std::span<const Replicate> made, const ScatterGround& ground, ScatterResult& result);

}  // namespace grainwright
