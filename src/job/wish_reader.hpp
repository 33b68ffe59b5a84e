// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a search is asked: [limits], [shop] and [wish].
#pragma once

#include "grainwright/search/wish.hpp"
#include "section.hpp"

namespace grainwright {

[[nodiscard]] Limits read_limits(Section& section);
[[nodiscard]] Shop read_shop(Section& section);
[[nodiscard]] Wish read_wish(Section& section);

}  // namespace grainwright
