// SPDX-License-Identifier: GPL-3.0-or-later
//
// Limits and the figures held against them, in words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grainwright/assessment/limits.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright::cli {

/// The dimension of a job key that limits something; a ratio where no other is known.
[[nodiscard]] Dimension dimension_of_limit(std::string_view key);

/// What is worth a line: all but the room of a stack that fits it.
[[nodiscard]] std::vector<Check> worth_saying(const std::vector<Check>& checks);
/// Those of the job's [limits], of its [wish] for the firing, and of its [wish] for the flight.
[[nodiscard]] std::vector<Check> of_limits(const std::vector<Check>& checks);
[[nodiscard]] std::vector<Check> of_firing(const std::vector<Check>& checks);
[[nodiscard]] std::vector<Check> of_flight(const std::vector<Check>& checks);

/// "peak pressure 3.1 MPa, ceiling 4 MPa: 78 % of it".
[[nodiscard]] std::string sentence(const Check& check, UnitSystem units);
/// The same of a figure and a limit that are no row of the table.
[[nodiscard]] std::string sentence(std::string_view what, double value, bool ceiling, double limit,
                                   Dimension dimension, UnitSystem units);
/// "peak pressure at most 4 MPa".
[[nodiscard]] std::string sentence(const Limit& limit, UnitSystem units);

}  // namespace grainwright::cli
