// SPDX-License-Identifier: GPL-3.0-or-later
//
// The sites a front starts from, and where the balls that grow from one site meet another.
//
// From each foot on a site the front moves along the normal. The point at height h is nearest to
// its own foot until the ball of radius h around it touches another site: that height is the
// ceiling. Over a straight site, abscissa s, every ceiling is h = c0 + c1 s + c2 s^2; over a round
// one, direction s, with r the distance from its centre, it is 1/r = c0 + c1 cos s + c2 sin s
// (closed forms: a bisector of lines and circles is a conic with that focus or axis).
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "plane.hpp"

namespace grainwright::front {

enum class Shape : std::uint8_t {
  line,   ///< a straight burning edge
  round,  ///< a burning arc, or with radius 0 a corner the front fans out from
  dam,    ///< a straight edge that does not burn and that the front cannot cross
};

struct Site {
  Shape shape = Shape::line;
  Point origin;       ///< where a line begins; a round site's centre
  Point along;        ///< line: direction, propellant at its right; round: middle direction
  Point normal;       ///< line: into the propellant
  double radius = 0;  ///< round
  double sign = 1;    ///< round: 1 where the front grows, -1 where it shrinks onto the centre
  double from = 0;    ///< range of the parameter: abscissa, m, or direction, rad
  double to = 0;
  Point begin, end;  ///< of the piece of boundary, in the ring's direction
  Point bound;       ///< a disk that holds the site: its centre
  double reach = 0;  ///< and its radius

  [[nodiscard]] bool straight() const { return shape != Shape::round; }
  [[nodiscard]] bool corner() const { return shape == Shape::round && radius == 0; }
  /// The point at height h over the foot at s.
  [[nodiscard]] Point point(double s, double h) const;
  /// Parameter of the foot under a point.
  [[nodiscard]] double parameter(Point p) const;
  /// True where the foot of this point lies on the site itself, not only on its line or circle.
  [[nodiscard]] bool under(Point p) const;
  /// An upper bound of (q - foot) . normal over all feet and all q of a disk.
  [[nodiscard]] double ahead(Point centre, double reach) const;
  /// A lower bound of the distance from the site to that disk.
  [[nodiscard]] double gap(Point centre, double reach) const;
};

[[nodiscard]] Site line_site(Point from, Point to, Shape shape = Shape::line);
/// The arc from direction `from` anticlockwise to `to`; at most half a turn.
[[nodiscard]] Site round_site(Point centre, double radius, double sign, double from, double to);

/// Coefficients of a ceiling; what they mean depends on the site below it.
enum class Roof : std::uint8_t {
  none,
  curve,   ///< the three coefficients
  wall,    ///< the circle about the axis
  centre,  ///< a shrinking arc that reaches its own centre
};
struct Ceiling {
  Roof roof = Roof::none;
  std::array<double, 3> c = {};
};

/// Height of a curve ceiling over the foot at s; infinite where the balls never meet it.
[[nodiscard]] double curve_height(const Site& site, const Ceiling& ceiling, double s);

/// Where balls from `site` meet the whole line or circle of `other`. Roof::none where never.
/// `scale` is the size of the figure, against which lengths count as nothing.
[[nodiscard]] Ceiling bisector(const Site& site, const Site& other, double scale);

/// An interval of a site's parameter.
struct Range {
  double from = 0;
  double to = 0;
};

/// A handful of items without a heap.
template <typename Item, std::size_t most>
struct Few {
  std::array<Item, most> items = {};
  std::size_t count = 0;

  void add(const Item& item) { items[count++] = item; }
  /// Adds a number in its place of a rising row.
  void sort_in(const Item& item) {
    std::size_t i = count++;
    for (; i > 0 && items[i - 1] > item; --i) items[i] = items[i - 1];
    items[i] = item;
  }
  [[nodiscard]] const Item* begin() const { return items.data(); }
  [[nodiscard]] const Item* end() const { return items.data() + count; }
};

/// Parts of `site` whose balls touch `other` within its own range.
[[nodiscard]] Few<Range, 5> touching(const Site& site, const Site& other, const Ceiling& ceiling,
                                     double scale);

/// Angles within half a turn of `middle` where a + b cos s + c sin s = 0.
using Roots = Few<double, 2>;
[[nodiscard]] Roots sinusoid_roots(double a, double b, double c, double middle);
/// Real roots of a + b s + c s^2, rising, the double one once.
[[nodiscard]] Roots quadratic_roots(double a, double b, double c);

}  // namespace grainwright::front
