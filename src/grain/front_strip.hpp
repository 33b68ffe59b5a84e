// SPDX-License-Identifier: GPL-3.0-or-later
//
// A strip: a stretch of one site under one ceiling along which the ceiling only rises or only
// falls, so that it is cut by the front at most once. All measures carry a weight that is affine in
// the plane: 1 for a prism, 2 pi r for a body of revolution (Pappus).
#pragma once

#include <optional>

#include "front_envelope.hpp"
#include "grainwright/grain/quadratic.hpp"

namespace grainwright::front {

/// weight(p) = at_origin + slope . p
struct Weight {
  double at_origin = 1;
  Point slope = {};
  [[nodiscard]] double at(Point p) const { return at_origin + dot(slope, p); }
  bool operator==(const Weight&) const = default;
};

struct Strip {
  Site site;
  Ceiling ceiling;
  Range range;     ///< of the site's parameter
  double at_from;  ///< height of the ceiling at the range's ends
  double at_to;
  double wall = 0;  ///< radius of the wall; 0 for none

  [[nodiscard]] double low() const { return std::min(at_from, at_to); }
  [[nodiscard]] double high() const { return std::max(at_from, at_to); }
  /// The part of the range that still burns at this web.
  [[nodiscard]] Range live(double web) const;
  /// Weighted length of the front over a part of the range.
  [[nodiscard]] double length(Range part, double web, const Weight& weight) const;
  /// Weighted area between the front and the ceiling over a part of the range.
  [[nodiscard]] double area(Range part, double web, const Weight& weight) const;
  /// length() of the web while the whole strip burns.
  [[nodiscard]] Quadratic whole(const Weight& weight) const;
  /// length() of the web while the ceiling cuts the strip, where that is a well-behaved quadratic.
  [[nodiscard]] std::optional<Quadratic> partial(const Weight& weight) const;
  /// Height of the ceiling over the foot at s.
  [[nodiscard]] double height(double s) const;

 private:
  [[nodiscard]] double cut(double web) const;
  [[nodiscard]] double cut_over_line(double web) const;
  [[nodiscard]] double cut_over_round(double web) const;
  [[nodiscard]] double area_over_line(Range part, double web, const Weight& weight) const;
  [[nodiscard]] double area_over_round(Range part, double web, const Weight& weight) const;
  [[nodiscard]] double focal_area(Point a, Point b, const Weight& weight) const;
};

/// Cuts the cover where its ceiling turns from rising to falling.
void add_strips(const Site& site, const Cover& cover, double wall, std::vector<Strip>& strips);

}  // namespace grainwright::front
