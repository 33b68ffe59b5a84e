// SPDX-License-Identifier: GPL-3.0-or-later
//
// The axis of a chart: an end and labelled ticks, so that the page needs no units of its own.
#pragma once

#include "grainwright/quantity.hpp"
#include "state.hpp"

namespace grainwright::bench {

/// From 0 past `most` (SI) in round steps of the printed unit: {"end", "ticks": [[SI, label]]}.
[[nodiscard]] Json axis_to(double most, Dimension dimension, UnitSystem units);

}  // namespace grainwright::bench
