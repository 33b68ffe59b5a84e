// SPDX-License-Identifier: GPL-3.0-or-later
//
// The stack as it really is after some mistakes, before anything strays.
#pragma once

#include <vector>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/motor/motor.hpp"
#include "grainwright/scatter/fault.hpp"

namespace grainwright {

/// Equal pieces of one layer. A crack through part of a section makes a part of a segment behave as
/// two shorter ones, so the count need not be whole.
struct ScenePiece {
  Segment segment;
  double count = 1;
  std::size_t layer = 0;
  double length_share = 1;  ///< of the length of a whole segment
  /// Burning area of one segment with a core that is not plain and round; it does not stray.
  std::vector<Stretch> shaped = {};
  double nozzle_face = 0;  ///< m2 that burn there at ignition; of a core that is not plain
  double port_area = 0;    ///< m2 at its narrowest place; likewise
  /// Where the count is not whole and must be: the part with the crack is rounded up.
  bool round_up = false;
};

struct Scene {
  std::vector<ScenePiece> pieces;
  double throat_diameter = 0;  ///< m
  /// Of all pieces with such cores together, from lighting to the last one's burnout.
  std::vector<Stretch> shaped = {};
};

[[nodiscard]] Scene scene_of(const Motor& motor);
/// Nothing is checked; a fault that finds no piece of its layer left changes nothing.
[[nodiscard]] Scene with_fault(Scene scene, const Fault& fault);

/// The nearest motor with whole segments: a crack is left out of its grain, not of its firing.
[[nodiscard]] Motor motor_of(const Scene& scene, const Motor& drawn);

/// Head end first; within a layer narrower ports nozzleward, where more gas passes them.
void put_in_order(Scene& scene);

}  // namespace grainwright
