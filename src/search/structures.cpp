// SPDX-License-Identifier: GPL-3.0-or-later
#include "structures.hpp"

#include <algorithm>

#include "stock.hpp"

namespace grainwright {
namespace {

// Fewest pours of one core whose bare ends add to `sum`; empty where no pours can.
std::vector<PourKind> fewest_pours(const Shop& shop, int mandrel, int length, int sum) {
  const auto can = [&](int ends) { return std::ranges::count(shop.bare_ends, ends) > 0; };
  if (sum == 0)
    return can(0) ? std::vector<PourKind>{{mandrel, 0, 1, length}} : std::vector<PourKind>{};
  for (int twos = can(2) ? sum / 2 : 0; twos >= 0; --twos) {
    const int ones = sum - 2 * twos;
    if (ones > 0 && !can(1)) continue;
    std::vector<PourKind> kinds;
    if (twos > 0) kinds.push_back({mandrel, 2, twos, length});
    if (ones > 0) kinds.push_back({mandrel, 1, ones, length});
    return kinds;
  }
  return {};
}

// Adds the cores from `mandrel` on to what has been chosen so far.
void choose(const Shop& shop, int mandrel, int fewest_kinds, const Structure& chosen,
            std::vector<Structure>& all) {
  if (mandrel == rods_of(shop)) {
    if (chosen.segments > 0 && static_cast<int>(chosen.kinds.size()) >= fewest_kinds) {
      all.push_back(chosen);
    }
    return;
  }
  choose(shop, mandrel + 1, fewest_kinds, chosen, all);
  for (int sum = 0; sum <= 2 * (shop.most_segments - chosen.segments); ++sum) {
    const std::vector<PourKind> added = fewest_pours(shop, mandrel, chosen.lengths, sum);
    if (added.empty()) continue;
    Structure more = chosen;
    ++more.lengths;
    for (const PourKind& kind : added) {
      more.kinds.push_back(kind);
      more.segments += kind.count;
    }
    if (more.segments > shop.most_segments) continue;
    if (static_cast<int>(more.kinds.size()) > shop.most_kinds) continue;
    choose(shop, mandrel + 1, fewest_kinds, more, all);
  }
}

}  // namespace

std::vector<Structure> all_structures(const Shop& shop, int fewest_kinds) {
  std::vector<Structure> all;
  choose(shop, 0, fewest_kinds, {}, all);
  return all;
}

}  // namespace grainwright
