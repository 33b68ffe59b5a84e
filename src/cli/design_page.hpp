// SPDX-License-Identifier: GPL-3.0-or-later
//
// The answer of a search in words: what was asked, what to build, what else could be built and what
// that gives up; or which limit stands in the way.
#pragma once

#include "grainwright/job/job.hpp"
#include "grainwright/search/search.hpp"
#include "page.hpp"

namespace grainwright::cli {

[[nodiscard]] Page design_page(const Job& job, const SearchTask& task, const SearchResult& result,
                               const std::vector<Margins>& hot, UnitSystem units);

}  // namespace grainwright::cli
