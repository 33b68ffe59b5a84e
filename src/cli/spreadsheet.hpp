// SPDX-License-Identifier: GPL-3.0-or-later
//
// Curves for a spreadsheet: one table, one line of heads with units, even steps in time, printed
// units. (For machines there is --csv, in SI at the model's own moments.)
#pragma once

#include <string>

#include "report_chapters.hpp"

namespace grainwright::cli {

[[nodiscard]] std::string spreadsheet_of(const Job& job, const Findings& found, UnitSystem units);

}  // namespace grainwright::cli
