// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a search is asked: [limits], [shop] and [wish].
#pragma once

#include <filesystem>

#include "grainwright/search/wish.hpp"
#include "section.hpp"

namespace grainwright {

/// The pressure is to come from what holds it.
[[nodiscard]] bool asks_strength(Section& limits);
/// Without such a pressure, which the reader of the job works out.
[[nodiscard]] Limits read_limits(Section& section);
/// Files with outlines are looked for in `folder`.
[[nodiscard]] Shop read_shop(Section& section, const std::filesystem::path& folder);
[[nodiscard]] Wish read_wish(Section& section);

}  // namespace grainwright
