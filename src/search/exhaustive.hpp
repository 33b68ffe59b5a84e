// SPDX-License-Identifier: GPL-3.0-or-later
//
// Every build of one or two kinds on a lattice, in every throat.
#pragma once

#include <vector>

#include "evaluator.hpp"
#include "grainwright/search/search.hpp"
#include "shortlist.hpp"

namespace grainwright {

struct Sweep {
  Shortlist shortlist;
  long long builds = 0;  ///< judged, segments and throat
  bool stopped = false;
};

/// Judges every build of the lattice with up to `most_kinds` kinds (1 or 2).
[[nodiscard]] Sweep sweep(const SearchTask& task, std::span<const ShopThroat> throats,
                          const Lattice& lattice, int most_kinds, const SearchOptions& options);

/// For each limit of the task, the smallest change of it alone that lets a build through.
[[nodiscard]] std::vector<Relief> find_reliefs(const StockedTask& task,
                                               std::span<const ShopThroat> throats, double step,
                                               int most_kinds, const SearchOptions& options);

}  // namespace grainwright
