// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "grainwright/stand/compare.hpp"

namespace grainwright {

/// From figures and tenths of a comparison; `port_to_throat` of the motor, 0 without a port.
[[nodiscard]] std::vector<Hint> hints_for(const Comparison& comparison,
                                          const StandFigures& measured, double port_to_throat);

}  // namespace grainwright
