// SPDX-License-Identifier: GPL-3.0-or-later
//
// The manual page, made from the table of commands.
#pragma once

#include <span>
#include <string>

#include "command.hpp"

namespace grainwright::cli {

/// The page `grainwright(1)`, in the macros of man(7).
[[nodiscard]] std::string manual_page(std::span<const Command> commands);

}  // namespace grainwright::cli
