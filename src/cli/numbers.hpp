// SPDX-License-Identifier: GPL-3.0-or-later
//
// Numbers in a text beside those that `show` prints whole.
#pragma once

#include <string>
#include <string_view>

#include "grainwright/quantity.hpp"

namespace grainwright::cli {

/// The number of an SI value in `unit_of` its dimension, for a column whose head carries it.
[[nodiscard]] std::string number(double value, Dimension dimension, UnitSystem units,
                                 int digits = 4);
/// "web, mm".
[[nodiscard]] std::string head(std::string_view name, Dimension dimension, UnitSystem units);

/// "1.2 %", two digits.
[[nodiscard]] std::string percent(double fraction);

/// "1 segment", "2 segments".
[[nodiscard]] std::string counted(long long count, std::string_view thing);

}  // namespace grainwright::cli
