// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a body of revolution burns: tapered or stepped cores, coned ends, radial slots, any edge bare
// or inhibited. The front moves in the meridian plane exactly as a drawn core's does in its own,
// and areas and volumes follow by Pappus's rule: each piece of front or of section sweeps 2 pi
// times the radius of its centroid. Method: docs/outline.md.
//
// A front that would have to pass round an inhibited corner is refused: that burn is no longer
// along the normals of the bare faces.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "grainwright/grain/planar_front.hpp"
#include "grainwright/grain/segment.hpp"

namespace grainwright {

/// A corner of the propellant's half section, and whether the edge that leaves it burns. `z` runs
/// from the head end to the nozzle end, `r` from the axis, m. An edge along the axis never burns.
struct ProfileCorner {
  double z = 0;
  double r = 0;
  bool bare = false;
  bool operator==(const ProfileCorner&) const = default;
};

/// The half section of a body's propellant, closed, in either sense.
using HalfSection = std::vector<ProfileCorner>;

/// A cylinder with a turned inside. Lengths in m.
struct Turned {
  double length = 0;  ///< over all, at the outside
  double outer_radius = 0;
  /// The core from head end to nozzle end as (z, radius); at least two points, from z 0 to length.
  /// Equal z makes a step; radius 0 is solid.
  std::vector<Point> core;
  double head_dish = 0;    ///< how far the head end stands back at the core: a coned end
  double nozzle_dish = 0;  ///< the same at the nozzle end
  Faces inhibited = {Face::outer};

  bool operator==(const Turned&) const = default;
};

/// A slot cut from the core outward at right angles to the axis; its faces burn with the core.
struct RadialSlot {
  double z = 0;      ///< of its head-side face, m
  double width = 0;  ///< m
  double reach = 0;  ///< radius of its bottom, m
};

/// A straight taper from one radius at the head end to another at the nozzle end.
[[nodiscard]] Turned tapered(double length, double outer_radius, double head_radius,
                             double nozzle_radius);
/// The same body with a slot more. Throws InputError where it does not fit the core.
[[nodiscard]] Turned with_slot(Turned body, const RadialSlot& slot);

/// Throws InputError where the numbers make no body: see complaints().
[[nodiscard]] HalfSection profile_of(const Turned& body);
[[nodiscard]] std::vector<Complaint> complaints(const Turned& body);

/// Volume of a profile's body, m3 (Pappus).
[[nodiscard]] double volume_of(const HalfSection& profile);

/// The burning front of a body of revolution. An immutable value, cheap to copy.
class RevolvedFront {
 public:
  /// Throws InputError for a profile that crosses itself or the axis, has no bare edge, or whose
  /// front would have to pass round an inhibited corner.
  explicit RevolvedFront(const HalfSection& profile);

  /// m2; just before an event where it jumps; 0 past burnout.
  [[nodiscard]] double burning_area(double web) const;
  /// burning_area() from the event before this web to the one at or after it, where it is
  /// quadratic.
  [[nodiscard]] std::optional<Quadratic> formula(double web) const;
  /// m3 of propellant left, never below 0.
  [[nodiscard]] double volume(double web) const;
  /// m
  [[nodiscard]] double burnout() const;
  /// Webs where the formula changes or the area jumps, rising, burnout last, m.
  [[nodiscard]] std::span<const double> events() const;
  /// The front in the meridian plane at this web, as (z, r), its parts in no order.
  [[nodiscard]] std::vector<Stroke> strokes(double web) const;

 private:
  std::shared_ptr<const FrontSum> sum_;
};

}  // namespace grainwright
