// SPDX-License-Identifier: GPL-3.0-or-later
//
// Motors fired in full by the model that judges them: those from which the carry of the steady
// peaks is read, and those that check it.
#pragma once

#include "grainwright/scatter/scatter.hpp"
#include "quick_firing.hpp"

namespace grainwright {

/// The motor as drawn, some with wider and narrower ports around it, and each mistake alone.
/// Throws what the judge throws of the motor as drawn.
[[nodiscard]] Carry carry_of(const PeakJudge& judge, const FiringGround& ground,
                             const Inputs& inputs, unsigned threads);

/// Fires some of the drawn motors in full, those whose carried peaks lie nearest the ceiling, and
/// raises the ground's carry by what they peak higher.
[[nodiscard]] JudgedPeaks check_in_full(const ScatterTask& task, FiringGround& ground,
                                        const Inputs& inputs, std::uint64_t seed, unsigned threads);

/// The greatest port load that tolerances and mistakes can bring about; limits of a normal
/// distribution as in spread.hpp.
struct LoadRange {
  double least = 0;
  double greatest = 0;
};
[[nodiscard]] LoadRange load_range(const FiringGround& ground, const Inputs& inputs);

/// One drawn motor with whole segments: cores centred, which lets none of them peak lower, and a
/// crack through part of a section taken through the whole of it.
[[nodiscard]] Motor whole_motor(const FiringGround& ground, const Draw& draw);

}  // namespace grainwright
