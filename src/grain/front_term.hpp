// SPDX-License-Identifier: GPL-3.0-or-later
//
// What curved ceilings add to the front of a prism, as closed forms of the web. While its ceiling
// cuts a strip, the strip's length is a linear function of the web plus or minus a *term* that
// depends on the shape of the ceiling alone, not on where the strip lies or how far it reaches. So
// turned and mirrored copies, and all strips under ceilings of one shape, share one term.
#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include "front_strip.hpp"

namespace grainwright::front {

/// Half the opening of a ceiling at the height of the front, as a length, and its primitive. Over a
/// round site r is the distance from its centre, radius + sign * web.
struct Term {
  enum class Kind : std::uint8_t {
    chord,         ///< round site under a line at distance a: r acos(a / r)
    focus,         ///< round site in the focus of a parabola: r acos(a / r - 1)
    wall_by_arc,   ///< round site at distance a from the axis of a wall of radius b
    wall_by_line,  ///< straight site at distance a beyond the axis, wall of radius b
    parabola,      ///< straight site under a parabola: sqrt((web - a) / b)
  };
  Kind kind = Kind::chord;
  double a = 0;
  double b = 0;
  double radius = 0;
  double sign = 1;

  [[nodiscard]] double value(double web) const;
  /// A primitive of value(), differences of which are areas.
  [[nodiscard]] double integral(double web) const;

  /// Equal for terms that differ by rounding alone.
  using Key = std::array<std::int64_t, 5>;
  [[nodiscard]] Key key(double scale) const;
};

/// A strip's length while its ceiling cuts it: rest plus `share` (1 or -1) times the term's value.
struct TermShare {
  Term term;
  double share = 1;
  Quadratic rest;
};

/// None for a strip whose ceiling is a conic of another shape, or flat, or so slightly curved that
/// the term would lose digits; `scale` is the figure's size. Lengths without weight.
[[nodiscard]] std::optional<TermShare> term_of(const Strip& strip, double scale);

}  // namespace grainwright::front
