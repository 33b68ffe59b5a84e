// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/firing.hpp"

#include <cmath>

namespace grainwright {

std::string letter_class(double total_impulse) {
  constexpr double top_of_a = 2.5;  // N s; every class doubles
  constexpr int letters = 26;
  // The published table prints hundredths, and thousandths under A: 160.00 is a G and 160.01 an H.
  const double steps = total_impulse < top_of_a / 2 ? 1000 : 100;
  const double impulse = std::round(total_impulse * steps) / steps;
  if (!(impulse > top_of_a / 8)) return "under 1/4A";
  if (impulse <= top_of_a / 4) return "1/4A";
  if (impulse <= top_of_a / 2) return "1/2A";
  double top = top_of_a;
  for (int k = 0; k < letters; ++k, top *= 2) {
    if (impulse <= top) return std::string(1, static_cast<char>('A' + k));
  }
  return "over Z";
}

}  // namespace grainwright
