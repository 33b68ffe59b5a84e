// SPDX-License-Identifier: GPL-3.0-or-later
//
// What each dimension is called, which units it prints in, and an example of it.
#pragma once

#include <span>
#include <string_view>

#include "grainwright/quantity.hpp"

namespace grainwright {

/// What one system of units prints: the unit of columns, and a larger one from some size on.
struct Printed {
  std::string_view unit;
  std::string_view large = {};
  double large_from = 0;  ///< SI
};

/// A dimension in words and units.
struct Kind {
  Dimension dimension;
  std::string_view name;
  std::string_view base;  ///< the SI unit, worth exactly 1
  Printed us;
  Printed si;
  std::string_view example;
};

/// In the order of the enumeration.
[[nodiscard]] std::span<const Kind> all_kinds();

[[nodiscard]] inline const Kind& kind_of(Dimension dimension) {
  return all_kinds()[static_cast<std::size_t>(dimension)];
}

}  // namespace grainwright
