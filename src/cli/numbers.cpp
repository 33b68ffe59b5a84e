// SPDX-License-Identifier: GPL-3.0-or-later
#include "numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace grainwright::cli {

std::string number(double value, Dimension dimension, UnitSystem units, int digits) {
  return show(in_units(value, dimension, units), Dimension::ratio, units, digits);
}

std::vector<std::string> column(const std::vector<double>& values, Dimension dimension,
                                UnitSystem units, int digits) {
  double largest = 0;
  for (double value : values) {
    largest = std::max(largest, std::abs(in_units(value, dimension, units)));
  }
  const int whole = largest > 0 ? static_cast<int>(std::floor(std::log10(largest))) + 1 : 1;
  const int decimals = std::clamp(digits - whole, 0, 9);
  std::vector<std::string> cells;
  for (double value : values) {
    cells.push_back(fmt::format("{:.{}f}", in_units(value, dimension, units), decimals));
  }
  return cells;
}

std::string shown_outward(double value, double from, Dimension dimension, UnitSystem units) {
  constexpr int digits = 4;
  if (value == 0) return show(value, dimension, units, digits);
  const double last = std::pow(10, std::floor(std::log10(std::abs(value))) - digits + 2);
  return show(value + std::copysign(last / 2, value - from), dimension, units, digits);
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
