// SPDX-License-Identifier: GPL-3.0-or-later
//
// Chances, error bars and spreads in words and as JSON.
#pragma once

#include <string>

#include "grainwright/quantity.hpp"
#include "grainwright/scatter/estimate.hpp"
#include "grainwright/scatter/spread.hpp"
#include "json.hpp"

namespace grainwright::cli {

/// "3.2 %", "12 ± 2 %", "1 in 640", "none seen, under 1 in 17,000", "under 1 in a million", "over
/// 99 %": error bars only where they are wider than what models and inputs are worth.
[[nodiscard]] std::string chance_words(const Estimate& chance);
/// "501", or "501 ± 8" where the error bar is wider than what the models are worth, in `unit_of`
/// the dimension.
[[nodiscard]] std::string with_error(const Estimate& estimate, Dimension dimension,
                                     UnitSystem units);
/// "sigma 5 %", "within 0.05 mm"; `own` is the dimension of a width that is no share. A star marks
/// what is the trade's and not the builder's.
[[nodiscard]] std::string spread_words(const Spread& spread, Dimension own, UnitSystem units);

/// {"value": ..., "error": ...}.
[[nodiscard]] Json json_of(const Estimate& estimate);

}  // namespace grainwright::cli
