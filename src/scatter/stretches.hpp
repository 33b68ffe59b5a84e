// SPDX-License-Identifier: GPL-3.0-or-later
//
// Burning areas of pieces that burn beside each other, added up.
#pragma once

#include <span>
#include <vector>

#include "grainwright/grain/burnback.hpp"

namespace grainwright {

/// Working space: kept from one motor to the next.
class StretchSum {
 public:
  void clear();
  /// One piece's stretches without gaps from web 0 on, and how many of it there are.
  void add(std::span<const Stretch> piece, double count);
  /// All of them together, between the webs at which any stretch ends.
  void add_up(std::vector<Stretch>& sum);

 private:
  std::vector<Stretch> parts_;     // times their count
  std::vector<std::size_t> ends_;  // of each piece among them
  std::vector<std::size_t> at_;
  std::vector<double> events_;
};

/// Fewer stretches that burn exactly as much: their areas are off by 1e-6 of the greatest at most,
/// where those of a burnback are so fine as to be good to 1e-10.
[[nodiscard]] std::vector<Stretch> coarser(std::span<const Stretch> stretches);

}  // namespace grainwright
