// SPDX-License-Identifier: GPL-3.0-or-later
//
// A scatter in words and as JSON.
#pragma once

#include <string>

#include "grainwright/job/job.hpp"
#include "grainwright/scatter/scatter.hpp"
#include "json.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// Percentiles, chances, shares and mistakes.
void tell(Page& page, const ScatterResult& result, UnitSystem units);
[[nodiscard]] std::string scatter_page(const Job& job, const ScatterResult& result,
                                       UnitSystem units, const std::string& job_file);
[[nodiscard]] Json json_of(const Job& job, const ScatterResult& result);

}  // namespace grainwright::cli
