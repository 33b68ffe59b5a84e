// SPDX-License-Identifier: GPL-3.0-or-later
#include "numbers.hpp"

#include <fmt/format.h>

namespace grainwright::cli {

std::string number(double value, Dimension dimension, UnitSystem units, int digits) {
  return show(in_units(value, dimension, units), Dimension::ratio, units, digits);
}

std::string head(std::string_view name, Dimension dimension, UnitSystem units) {
  return fmt::format("{}, {}", name, unit_of(dimension, units));
}

std::string percent(double fraction) {
  return show(100 * fraction, Dimension::ratio, UnitSystem::si, 3) + " %";
}

std::string counted(long long count, std::string_view thing) {
  return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

}  // namespace grainwright::cli
