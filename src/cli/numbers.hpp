// SPDX-License-Identifier: GPL-3.0-or-later
//
// Numbers in a text beside those that `show` prints whole.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grainwright/quantity.hpp"

namespace grainwright::cli {

/// The number of an SI value in `unit_of` its dimension, for a column whose head carries it.
[[nodiscard]] std::string number(double value, Dimension dimension, UnitSystem units,
                                 int digits = 4);
/// The same for all numbers of a column, with one number of decimals: as many as give the largest
/// of them `digits` digits.
[[nodiscard]] std::vector<std::string> column(const std::vector<double>& values,
                                              Dimension dimension, UnitSystem units,
                                              int digits = 4);
/// What `show` prints, but rounded away from `from`, so that the printed value still goes as far.
[[nodiscard]] std::string shown_outward(double value, double from, Dimension dimension,
                                        UnitSystem units);
/// "web, mm".
[[nodiscard]] std::string head(std::string_view name, Dimension dimension, UnitSystem units);

/// "1.2 %", two digits.
[[nodiscard]] std::string percent(double fraction);

/// "1 segment", "2 segments".
[[nodiscard]] std::string counted(long long count, std::string_view thing);

}  // namespace grainwright::cli
