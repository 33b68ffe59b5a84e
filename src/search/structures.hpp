// SPDX-License-Identifier: GPL-3.0-or-later
//
// Structures: how many segments of which core with which bare ends, lengths still open.
//
// While segments of one core burn to the wall only the sum of their bare ends matters, so for each
// core each sum is made by the fewest pours that can make it, all of one length.
#pragma once

#include <vector>

#include "grainwright/search/search.hpp"

namespace grainwright {

struct PourKind {
  int mandrel = 0;  ///< number of the shop's rod
  int bare_ends = 0;
  int count = 0;
  int length = 0;  ///< index of the open length that it shares
};

struct Structure {
  std::vector<PourKind> kinds;
  int lengths = 0;  ///< open lengths, one a core
  int segments = 0;
};

/// Every structure within the shop's segments and kinds that has at least `fewest_kinds` kinds.
[[nodiscard]] std::vector<Structure> all_structures(const Shop& shop, int fewest_kinds);

}  // namespace grainwright
