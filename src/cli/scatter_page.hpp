// SPDX-License-Identifier: GPL-3.0-or-later
//
// A scatter in words and as JSON.
#pragma once

#include <string>

#include "grainwright/assessment/assessment.hpp"
#include "grainwright/job/job.hpp"
#include "json.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// Percentiles, chances, shares and mistakes.
void tell(Page& page, const ScatterResult& result, UnitSystem units);
/// Of an assessment that has a scatter.
[[nodiscard]] std::string scatter_page(const Job& job, const Assessment& found, UnitSystem units,
                                       const std::string& job_file);
/// What a reader must know of the motor and of what does not stray.
[[nodiscard]] std::vector<std::string> scatter_remarks(const Job& job, const Assessment& found);
[[nodiscard]] Json json_of(const Job& job, const Assessment& found);

}  // namespace grainwright::cli
