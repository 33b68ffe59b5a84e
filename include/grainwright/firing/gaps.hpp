// SPDX-License-Identifier: GPL-3.0-or-later
//
// Gaps between segments. Bare ends that face each other share a gap, and the gas they make leaves
// through its rim into the ports. Where the rim is narrow the pressure between the ends rises above
// that of the port, and where they touch they do not burn at all until gas works its way in, though
// every model of this room burns them from the start.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "grainwright/firing/prepared_motor.hpp"

namespace grainwright {

/// A gap with at least one bare end in it.
struct Gap {
  std::size_t below = 0;   ///< number of the segment headward of it in the stack, from 1
  double width = 0;        ///< m
  double mach = 0;         ///< of the gas in its rim; infinite where the ends touch
  double least_width = 0;  ///< m, for `calm_gap_mach`
};

/// Mach number in a gap's rim past which it counts as too narrow: there the pressure between the
/// ends is some 5 % above the port's. Common practice, no source.
inline constexpr double calm_gap_mach = 0.3;

/// Gaps at lighting, head end first, at the steady pressure. The gas leaves through the rim at the
/// smaller of both cores (the shorter girth where they are not round), with the density of the gas
/// at rest.
[[nodiscard]] std::vector<Gap> gaps_of(const PreparedMotor& motor);

/// What a builder must know of them, in words; empty where every gap is wide enough.
[[nodiscard]] std::vector<std::string> gap_warnings(const PreparedMotor& motor);

}  // namespace grainwright
