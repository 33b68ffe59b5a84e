// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rows that stand alone: a knock on the bench, a bit lost on the wire.
#pragma once

#include "grainwright/stand/log.hpp"

namespace grainwright {

/// Median distance between neighbouring times, s, from a sample of them.
[[nodiscard]] double median_step(const std::vector<double>& time);
/// Standard deviation of the noise, from differences between neighbours; blind to what is slow.
[[nodiscard]] double noise_of(const std::vector<double>& values);

/// Takes rows out of the log that lie further from the median of the seven around them than eight
/// times the noise, 3 % of the log's span and three times the span of their sounder neighbours: up
/// to two in a row. (Hampel's identifier, with floors.) Returns how many, and where.
FaultCount set_spikes_aside(Log& log);

}  // namespace grainwright
