// SPDX-License-Identifier: GPL-3.0-or-later
//
// Unit expressions such as "mm", "lb/in3", "W/m-K": what one of them is worth in SI.
#pragma once

#include <array>
#include <string_view>

namespace grainwright {

/// Powers of m, kg, s, K, mol and rad.
using Powers = std::array<int, 6>;

/// A quantity of v such units is (v 10^ten + zero) factor in SI. The power of ten stands apart from
/// the factor so that "61.9 mm" becomes the double nearest to 0.0619 and not one beside it.
struct Unit {
  double factor = 1;
  int ten = 0;
  double zero =
      0;  ///< degrees from absolute zero to the scale's zero; 0 unless a scale stands alone
  bool gauge = false;  ///< a pressure counted from that of the air around
  Powers powers = {};
};

struct UnitReading {
  Unit unit = {};
  std::string_view unread = {};  ///< what could not be understood; empty when all was
};

/// Reads symbols with exponents, joined by '/', '*', '-' or a space. All that follows the first '/'
/// divides: "lb/s-in2" is lb/(s in2). Read the other way it would be another kind of quantity, so a
/// misreading is refused by whoever asks for a kind, and never becomes a wrong number.
[[nodiscard]] UnitReading read_unit(std::string_view text);

/// value 10^ten, correctly rounded for |ten| <= 22.
[[nodiscard]] double times_ten_to(double value, int ten);

}  // namespace grainwright
