// SPDX-License-Identifier: GPL-3.0-or-later
//
// A segment cut along its axis, in the cut's plane: x along the axis from the segment's head end, y
// up, in m.
#pragma once

#include <optional>
#include <vector>

#include "cut_plane.hpp"
#include "grainwright/grain/core.hpp"

namespace grainwright::drawing {

/// The core's body in the plane of the axis, for a core in the middle.
[[nodiscard]] std::optional<Turned> turned_of(const Segment& segment);

/// What is left of a segment, both halves.
struct Remains {
  std::vector<Ring> propellant;
  std::vector<Stroke> front;  ///< that burns
};

/// How the cut of one segment burns back. Built once, asked for many webs.
class Cut {
 public:
  /// Throws InputError where the core makes no segment.
  explicit Cut(const Segment& segment);

  /// Nothing at and past burnout.
  [[nodiscard]] Remains at(double web) const;
  /// What is inhibited, and stays.
  [[nodiscard]] std::vector<Stroke> held() const;

 private:
  [[nodiscard]] Remains turned_at(double web) const;
  [[nodiscard]] Remains swept_at(double web) const;

  Segment segment_;
  double burnout_;
  std::optional<HalfSection> profile_;  // of a core in the middle
  std::optional<RevolvedFront> revolved_;
  std::optional<PlanarFront> planar_;  // of one that is the same from end to end, turned about
  std::optional<CutPlane> plane_;      // the axis so that the cut tells most of it
};

}  // namespace grainwright::drawing
