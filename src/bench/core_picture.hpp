// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a core that is not plain and round looks like, as path data for the page, which only moves
// and scales it.
#pragma once

#include "state.hpp"

namespace grainwright::bench {

/// Units of path data a metre.
inline constexpr double picture_scale = 1e5;

/// The segment's cut along the axis from its head end, y downward: {"cut": propellant, "faces":
/// {"head": ..., ...}}, and where the core is the same from end to end, "end": the void seen from
/// an end, with the plane of the cut upright. Null where the core is plain and round, or makes no
/// segment.
[[nodiscard]] Json picture_of(const Segment& segment);

}  // namespace grainwright::bench
