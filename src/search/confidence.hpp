// SPDX-License-Identifier: GPL-3.0-or-later
//
// A ceiling that a part of all motors must keep, not only the one as drawn. The search keeps a
// lower ceiling instead, by a factor that is worked out in closed form first (the logarithm of the
// peak pressure strays normally, by straight lines around a plain stack) and then by firing the
// builds of the shortlist scattered, until all of them keep the asked ceiling.
#pragma once

#include <functional>

#include "grainwright/search/search.hpp"

namespace grainwright {

/// True where the task asks for it.
[[nodiscard]] bool asks_confidence(const SearchTask& task);

/// `search_once` is the search that knows nothing of chances. Mistakes are left out: which segment
/// they would hit is not known yet.
[[nodiscard]] SearchResult search_with_confidence(
    const SearchTask& task, const std::function<SearchResult(const SearchTask&)>& search_once);

}  // namespace grainwright
