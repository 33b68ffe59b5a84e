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

/// "3.21 ± 0.04 %", "none seen, under 0.006 %", "under 1 in a million".
[[nodiscard]] std::string chance_words(const Estimate& chance);
/// "501.2 ± 0.3" in `unit_of` the dimension, with as many decimals as the error bar is worth.
[[nodiscard]] std::string with_error(const Estimate& estimate, Dimension dimension,
                                     UnitSystem units);
/// "sigma 5 %", "within 0.05 mm"; `own` is the dimension of a width that is no share. A star marks
/// what is the trade's and not the builder's.
[[nodiscard]] std::string spread_words(const Spread& spread, Dimension own, UnitSystem units);

/// {"value": ..., "error": ...}.
[[nodiscard]] Json json_of(const Estimate& estimate);

}  // namespace grainwright::cli
