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

/// A segment's cut before lighting, both halves.
class WholeCut {
 public:
  /// Throws InputError where the core makes no segment.
  explicit WholeCut(const Segment& segment);

  [[nodiscard]] std::vector<Ring> propellant() const;
  /// Where the cut shows a face; nothing where there is none, as the core of a solid segment.
  [[nodiscard]] std::vector<Stroke> face(Face face) const;

  /// Of a core in the middle: its half section, first its head end, then the core, the nozzle end
  /// and the outside. Empty for any other.
  [[nodiscard]] const HalfSection& profile() const { return profile_; }
  /// Of a core that is the same from end to end, turned about the axis so that the cut tells most
  /// of it.
  [[nodiscard]] const std::optional<Outline>& outline() const { return outline_; }
  [[nodiscard]] const std::optional<CutPlane>& plane() const { return plane_; }

 private:
  [[nodiscard]] std::vector<Stroke> swept_face(Face face) const;
  [[nodiscard]] std::vector<Stroke> turned_face(Face face) const;

  double length_;
  double wall_;
  HalfSection profile_;
  std::optional<Outline> outline_;
  std::optional<CutPlane> plane_;
};

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
  WholeCut whole_;
  std::optional<RevolvedFront> revolved_;  // of a core in the middle
  std::optional<PlanarFront> planar_;      // of one that is the same from end to end
};

}  // namespace grainwright::drawing
