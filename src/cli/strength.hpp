// SPDX-License-Identifier: GPL-3.0-or-later
//
// Margins in words and as JSON, for every command that judges what holds.
#pragma once

#include <string>

#include "grainwright/job/job.hpp"
#include "grainwright/strength/margins.hpp"
#include "json.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// Each part's weakest way: when, how hot, its ratio then and cold.
[[nodiscard]] Table table_of(const Margins& margins, UnitSystem units);
/// "The head closure fails first, by ...".
[[nodiscard]] std::string strength_sentence(const Margins& margins, UnitSystem units);
/// Where a ceiling from strength comes from.
[[nodiscard]] std::string ceiling_words(const Job& job, UnitSystem units);

[[nodiscard]] Json json_of(const Margins& margins);

}  // namespace grainwright::cli
