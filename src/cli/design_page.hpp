// SPDX-License-Identifier: GPL-3.0-or-later
//
// The answer of a search in words: what was asked, what to build, what else could be built and what
// that gives up; or which limit stands in the way.
#pragma once

#include "grainwright/assessment/assessment.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/search/search.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// `judged` are the designs', in their order; `picked` counts from 0.
[[nodiscard]] Page design_page(const Job& job, const SearchTask& task, const SearchResult& result,
                               const std::vector<Assessment>& judged, std::size_t picked,
                               UnitSystem units);
/// That on the picked design; a no where there is none.
[[nodiscard]] Verdict verdict_on(const SearchResult& result, const std::vector<Assessment>& judged,
                                 std::size_t picked, UnitSystem units);

}  // namespace grainwright::cli
