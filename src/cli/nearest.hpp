// SPDX-License-Identifier: GPL-3.0-or-later
//
// The known name that a misspelt one was probably meant to be.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace grainwright::cli {

/// ", did you mean X?", or nothing where no name is near: one that starts so, or one at most a
/// third of its letters away (insertions, deletions, exchanges).
[[nodiscard]] std::string suggestion(std::string_view given,
                                     std::span<const std::string_view> known);

}  // namespace grainwright::cli
