// SPDX-License-Identifier: GPL-3.0-or-later
//
// A plain round core that has strayed off centre, quickly: until it meets the wall it burns as if
// it were in the middle; then an arc of it is left. Closed form of two circles; in the tail
// quadratics through the exact area stand for it, good to 3e-4 of burn time and 1e-5 of impulse (a
// test holds it).
#pragma once

#include <vector>

#include "grainwright/grain/burnback.hpp"

namespace grainwright {

/// Appends the burning area of one such segment, in stretches from lighting to burnout. `offset` in
/// m, above 0; the outer face is inhibited and the core bare.
void add_off_centre(const Segment& segment, double offset, std::vector<Stretch>& stretches);

}  // namespace grainwright
