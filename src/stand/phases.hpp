// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where in a log the motor burns, and where the scale is at its end.
#pragma once

#include <cstddef>
#include <vector>

namespace grainwright {

/// Rows at rest, and burning, by their numbers: [0, lit) and [out, rows).
struct Phases {
  std::size_t lit = 0;  ///< the last row at rest
  std::size_t out = 0;  ///< the first row at rest again; rows where the log ends before
  std::vector<std::size_t> firings;  ///< the first burning row of each firing
};

/// Thrust counts as certainly burning from this share of the peak.
inline constexpr double firing_share = 0.1;

/// The firing that made most impulse; what pushes before it without making much is its igniter.
[[nodiscard]] Phases phases_of(const std::vector<double>& time, const std::vector<double>& force,
                               double before, double after);

/// How many rows stand on a flat top, which thrust has run up to and leaves as nothing that burns
/// does: the straight lines on both sides of it would meet well above. 0 where there is none.
[[nodiscard]] std::size_t flat_top(const std::vector<double>& force, const Phases& phases,
                                   double rest, double noise);

}  // namespace grainwright
