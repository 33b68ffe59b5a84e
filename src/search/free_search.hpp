// SPDX-License-Identifier: GPL-3.0-or-later
//
// Beyond two kinds on a lattice: every structure of segments, each with its best lengths found by
// NLopt, snapped to the saw's step where there is one and improved there. Best found, not proven.
#pragma once

#include "exhaustive.hpp"

namespace grainwright {

/// Improves on a sweep's findings and offers what it finds to its shortlist.
void refine(const StockedTask& task, std::span<const ShopThroat> throats, double step,
            const SearchOptions& options, Sweep& swept);

}  // namespace grainwright
