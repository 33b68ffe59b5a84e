// SPDX-License-Identifier: GPL-3.0-or-later
//
// A curve drawn in the terminal: an area chart with both axes in units.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "grainwright/quantity.hpp"

namespace grainwright::cli {

struct Series {
  std::string_view name;  ///< "thrust"
  Dimension dimension = Dimension::ratio;
  std::span<const double> values;  ///< SI, not negative
};

/// Draws `y` against `x`, which rises from 0, 72 characters wide and 12 high.
/// With `fine` the heights come in eighths of a line, by block characters; else in plain ASCII.
[[nodiscard]] std::string drawn(const Series& x, const Series& y, UnitSystem units, bool fine);

/// Draws several curves over each other, each with the first letter of its name; "*" where two
/// meet. Values that are NaN are not drawn.
[[nodiscard]] std::string drawn_lines(const Series& x, std::string_view name,
                                      std::span<const Series> lines, UnitSystem units);

/// Whether the terminal's locale says UTF-8 (LC_ALL, else LC_CTYPE, else LANG).
[[nodiscard]] bool utf8_locale();

}  // namespace grainwright::cli
