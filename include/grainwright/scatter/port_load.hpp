// SPDX-License-Identifier: GPL-3.0-or-later
//
// How near a port is to choking before the throat does, from areas alone.
//
// A port chokes first where it must pass more gas for its area than the throat: (share of the gas
// that passes it) x throat area >= port area. Stagnation pressure only falls on the way to the
// throat, so that a port passes a little more than this before it chokes: the rule errs to the safe
// side while the share is that of the burning areas. Source: closed form, choked mass flow in
// proportion to area.
#pragma once

#include <algorithm>

#include "grainwright/motor/motor.hpp"

namespace grainwright {

/// Adds up a stack from its head end to its nozzle end.
class PortLoad {
 public:
  /// So many equal segments, one after the other: burning area of one (m2), that of its nozzle face
  /// in it, its port (m2; 0 where it is solid).
  void add(double count, double burning_area, double nozzle_face, double port_area) {
    const double passed = made_ + count * burning_area - std::min(1.0, count) * nozzle_face;
    if (port_area > 0) most_ = std::max(most_, passed / port_area);
    made_ += count * burning_area;
  }
  /// Greatest of (share of the gas that passes a port) x throat area / port area; 0 without a port.
  [[nodiscard]] double load(double throat_area) const {
    return made_ > 0 ? most_ * throat_area / made_ : 0;
  }

 private:
  double made_ = 0;
  double most_ = 0;  // of the area that burns headward of a port's end, over the port
};

/// That of a motor at ignition, of any core; 1 or more: a port may choke before the throat. Nothing
/// is checked.
[[nodiscard]] double port_load(const Motor& motor);

}  // namespace grainwright
