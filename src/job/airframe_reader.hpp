// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the motor has to lift: [airframe].
#pragma once

#include <optional>

#include "grainwright/flight/airframe.hpp"
#include "section.hpp"

namespace grainwright {

/// `altitude` is that of [day], m. Notes what is wrong; then nothing.
[[nodiscard]] std::optional<Airframe> read_airframe(Section& section, double altitude);

}  // namespace grainwright
