// SPDX-License-Identifier: GPL-3.0-or-later
//
// A burn law without jumps, for following a pressure in time. Where published pieces do not meet,
// the rate would jump, and a pressure that sits on such a joint could be followed by no step; here
// the logarithm of the rate runs in a straight line across one percent of pressure instead.
#pragma once

#include <cmath>
#include <limits>
#include <vector>

#include "grainwright/motor/burn_law.hpp"

namespace grainwright {

class JoinedLaw {
 public:
  explicit JoinedLaw(const BurnLaw& law);

  /// m/s at a pressure in Pa above 0. Equal to the law's further than 0.5 % from a joint.
  [[nodiscard]] double rate(double pressure) const {
    const double u = std::log(pressure);
    const Line* line = lines_.data();
    while (u > line->to) ++line;
    return std::exp(line->offset + line->slope * u);
  }

 private:
  /// ln r = offset + slope ln P up to `to`.
  struct Line {
    double to = std::numeric_limits<double>::infinity();
    double offset = 0;
    double slope = 0;
  };
  std::vector<Line> lines_;
};

}  // namespace grainwright
