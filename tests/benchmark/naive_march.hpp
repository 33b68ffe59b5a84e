// SPDX-License-Identifier: GPL-3.0-or-later
//
// The steady firing as it is usually written: equal steps of web, every segment's area worked out
// anew at each, the pressure in closed form, the trapezoid rule. What the library is timed against.
#pragma once

#include "grainwright/firing/steady.hpp"

namespace grainwright {

[[nodiscard]] BurnSums naive_march(const Motor& motor, int steps);

}  // namespace grainwright
