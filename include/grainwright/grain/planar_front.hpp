// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a drawn core burns outward in its plane: perimeter and propellant section against web, in
// closed form between events. Method, error budget and what was rejected: docs/outline.md.
//
// The front at web x is where the distance from the void is x, inside the wall (NASA SP-8076, 1972:
// every point of a burning surface regresses along its normal). Accuracy: 1e-12 of the wall's
// perimeter and area, save within 1e-12 radii of an event.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "grainwright/grain/outline.hpp"
#include "grainwright/grain/quadratic.hpp"

namespace grainwright {

class FrontSum;

/// A straight or circular part of a front: the edge from `from` to `to` that turns by `turn`.
struct Stroke {
  Point from;
  Point to;
  double turn = 0;
};

/// The burning front of a drawn core. An immutable value, cheap to copy.
class PlanarFront {
 public:
  /// Tidies the outline first. Throws InputError with its complaints.
  PlanarFront(const Outline& outline, double wall_radius);

  /// Length of burning front, m; just before an event where it jumps; 0 past burnout.
  [[nodiscard]] double perimeter(double web) const;
  /// perimeter() from the event before this web to the one at or after it, where it is straight.
  [[nodiscard]] std::optional<Quadratic> formula(double web) const;
  /// Propellant left, m2, never below 0.
  [[nodiscard]] double section(double web) const;
  /// Web at which the last sliver is gone, m.
  [[nodiscard]] double burnout() const;
  /// Webs where the formula changes or the perimeter jumps, rising, burnout last, m.
  [[nodiscard]] std::span<const double> events() const;
  /// The front at this web, its parts in no order.
  [[nodiscard]] std::vector<Stroke> strokes(double web) const;

 private:
  std::shared_ptr<const FrontSum> sum_;
};

/// An off-centre round core by the arcs of two circles, without the general kernel: the arc of the
/// core inside the wall and the section between them. All in m; `offset` from the axis.
struct OffCentre {
  double perimeter = 0;  ///< m
  double section = 0;    ///< m2
};
[[nodiscard]] OffCentre off_centre_core(double wall_radius, double core_radius, double offset,
                                        double web);

}  // namespace grainwright
