// SPDX-License-Identifier: GPL-3.0-or-later
//
// A flight in words and figures.
#pragma once

#include <string_view>
#include <vector>

#include "grainwright/flight/flight.hpp"
#include "limit_words.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// What every flight must be read with.
inline constexpr std::string_view flight_model =
    "A point mass slides up the rail without friction and then flies a gravity turn in still air "
    "of the U.S. Standard Atmosphere 1976. Left out: wind, stability, attitude, recovery, and the "
    "drag of a motor that burns.";

/// Thrust over weight at first motion that is usually asked for; common practice, no source.
inline constexpr double practised_thrust_to_weight = 5;

/// The rail, the ascent and its greatest figures.
void tell(Page& page, const Flight& flight, const Airframe& airframe, UnitSystem units);

/// The same in a few lines.
void tell_briefly(Page& page, const Flight& flight, UnitSystem units);

/// What is asked of the flight, and what common practice would ask.
void tell_bounds(Page& page, const std::vector<Check>& bounds, const Flight& flight,
                 UnitSystem units);

}  // namespace grainwright::cli
