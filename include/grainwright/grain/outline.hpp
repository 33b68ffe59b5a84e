// SPDX-License-Identifier: GPL-3.0-or-later
//
// The void of a drawn core, seen along the axis: plane regions with holes, bounded by straight
// edges and true circular arcs, in the segment's own frame (origin on the tube's axis, m).
//
// Outlines come from Well-Known Text (ISO 19125-1, simple features: POLYGON, MULTIPOLYGON), from
// the shapes of core_shapes.hpp, or from code. What is drawn by hand is seldom clean, so tidied()
// comes before any use: it merges near-duplicate corners, unites overlapping voids, turns the rings
// the right way, and says what it did.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

/// A point or vector of the plane, m.
struct Point {
  double x = 0;
  double y = 0;
  bool operator==(const Point&) const = default;
};

/// A corner of a ring and the edge that leaves it for the next corner: straight where `turn` is 0,
/// else an arc through that signed angle (rad, anticlockwise positive, less than a full turn).
struct Corner {
  Point at;
  double turn = 0;
  bool operator==(const Corner&) const = default;
};

/// A closed chain of corners; the last one joins the first, which is not repeated.
using Ring = std::vector<Corner>;

/// One void: what lies inside `outer` and outside every hole. A hole is propellant.
struct Region {
  Ring outer;
  std::vector<Ring> holes;
  bool operator==(const Region&) const = default;
};

/// The void of a core.
struct Outline {
  std::vector<Region> voids;
  /// The void may be drawn past the wall, for slots cut right through: what is past it is ignored.
  bool through_wall = false;

  bool operator==(const Outline&) const = default;

  /// Corners of all rings together.
  [[nodiscard]] std::size_t corner_count() const;
};

/// Most corners an outline may have.
inline constexpr std::size_t most_corners = 10'000;

/// Corners nearer than this to each other, or to the straight line between their neighbours, are
/// one: a fraction of the wall radius.
inline constexpr double outline_grain_of_detail = 1e-8;

/// Reads POLYGON or MULTIPOLYGON with numbers in units of `unit_in_m` metres. Throws InputError
/// that says where the text stops making sense, which ring is open, or which number is no length.
[[nodiscard]] Outline read_outline_wkt(std::string_view text, double unit_in_m);

/// An outline ready to burn, and what was changed to make it so, in words.
struct TidyOutline {
  Outline outline;                 ///< outer rings anticlockwise, holes clockwise, voids disjoint
  std::vector<std::string> notes;  ///< corners merged, voids united
};

/// Merges corners finer than the grain of detail, drops spikes without width, orients the rings,
/// unites overlapping voids. Throws InputError with every complaint where the outline cannot be a
/// void inside a tube of this inner radius (m): see complaints().
[[nodiscard]] TidyOutline tidied(const Outline& outline, double wall_radius);

/// Everything wrong with an outline in a tube of this radius: no corners or too many, a ring
/// without area, edges that cross (and where), a void outside the tube, a hole outside its void, no
/// propellant left. Empty when tidied() accepts it.
[[nodiscard]] std::vector<Complaint> complaints(const Outline& outline, double wall_radius);

/// What can be burned but deserves a warning, in words: islands of propellant that nothing holds.
/// Takes a tidied outline.
[[nodiscard]] std::vector<std::string> warnings(const Outline& outline);

/// Area of the void, m2, arcs included; for rings turned as tidied() leaves them.
[[nodiscard]] double area_of(const Outline& outline);

/// The outline turned anticlockwise about the axis (rad), mirrored left to right, or scaled.
[[nodiscard]] Outline rotated(const Outline& outline, double angle);
[[nodiscard]] Outline mirrored(const Outline& outline);
[[nodiscard]] Outline scaled(const Outline& outline, double factor);

}  // namespace grainwright
