// SPDX-License-Identifier: GPL-3.0-or-later
//
// The curve of a firing as it is followed, and the figures that are read off it.
#pragma once

#include <optional>
#include <vector>

#include "grainwright/firing/firing.hpp"

namespace grainwright {

struct CurvePoint {
  double time = 0;
  double web = 0;
  double burning_area = 0;
  double kn = 0;
  double pressure = 0;
  double thrust = 0;
};

void append(Curve& curve, const CurvePoint& point);

/// Greatest value of a smooth column: at a point, or at the top of the parabola through it and its
/// neighbours. A point that stands twice is a corner, and is taken as it is.
[[nodiscard]] double peak_of(const std::vector<double>& time, const std::vector<double>& value);

/// First and last time at which a column crosses a level, by straight lines between points; none
/// where it stays below. Starts or ends of the curve count where the column is above there.
struct Span {
  double from = 0;
  double to = 0;
};
[[nodiscard]] std::optional<Span> span_above(const std::vector<double>& time,
                                             const std::vector<double>& value, double level);

}  // namespace grainwright
