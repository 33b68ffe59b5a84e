// SPDX-License-Identifier: GPL-3.0-or-later
//
// Cores that the literature names, as outlines. Lengths in m, angles in rad.
// Words and letters follow the internal-burning star, slotted tube and wagon wheel of the grain
// design literature (NASA SP-8076, 1972; Barrère et al., Rocket Propulsion, 1960), from memory.
//
// Each function throws InputError with the parameter at fault where the numbers make no shape.
#pragma once

#include <numbers>
#include <vector>

#include "grainwright/grain/outline.hpp"

namespace grainwright {

/// A round core parallel to the axis.
struct RoundCore {
  Point centre;
  double radius = 0;
  bool operator==(const RoundCore&) const = default;
};
/// One or several round cores; they may overlap.
[[nodiscard]] Outline round_cores(const std::vector<RoundCore>& cores);

/// A star: straight flanks run from a sharp inner point of propellant to a rounded tip of the void.
struct Star {
  int points = 5;
  double half_angle = 0;      ///< theta/2, between a flank and the axis of its propellant point
  double angle_fraction = 1;  ///< e: the flanks and fillets take this part of pi/N, an arc the rest
  double fillet = 0;          ///< f, radius of the tips' fillets; 0 is sharp
  double fillet_centre = 0;   ///< l, distance of the fillets' centres from the axis
  bool operator==(const Star&) const = default;
};
[[nodiscard]] Outline star(const Star& shape);
/// Half angle of the star that burns evenly while its flanks live: t + cot t = pi/2 + pi/N.
[[nodiscard]] double neutral_half_angle(int points);

/// One straight slot through the axis.
struct Slot {
  double length = 0;  ///< from end to end
  double width = 0;
  bool round_ends = true;
  bool operator==(const Slot&) const = default;
};
[[nodiscard]] Outline slot(const Slot& shape);

/// Two slots at right angles.
struct Cross {
  Slot arm;
  bool operator==(const Cross&) const = default;
};
[[nodiscard]] Outline cross(const Slot& arm);

/// A round bore with radial slots around it.
struct SlottedTube {
  double bore = 0;  ///< radius
  int slots = 4;
  double slot_width = 0;
  double slot_reach = 0;      ///< distance of the slots' ends from the axis
  bool through_wall = false;  ///< the slots are cut right through to the wall, reach is not read
  bool operator==(const SlottedTube&) const = default;
};
[[nodiscard]] Outline slotted_tube(const SlottedTube& shape);

/// A wheel: spokes of propellant with parallel sides stand inward from the rim.
struct Wheel {
  int spokes = 6;
  double rim = 0;     ///< radius of the void between the spokes, l + f
  double fillet = 0;  ///< f, where a spoke meets the rim; 0 is sharp
  double spoke_width = 0;
  double tip = 0;  ///< distance of the spokes' tips from the axis
  /// Between a tip's flank and the spoke's axis; a right angle is square.
  double tip_half_angle = std::numbers::pi / 2;
  bool operator==(const Wheel&) const = default;
};
[[nodiscard]] Outline wheel(const Wheel& shape);

}  // namespace grainwright
