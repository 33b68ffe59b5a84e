// SPDX-License-Identifier: GPL-3.0-or-later
//
// A file that a command is to write.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "arguments.hpp"

namespace grainwright::cli {

/// What the option names. Throws FileError before any work is done where the file exists and
/// --force is not given.
[[nodiscard]] std::optional<std::string> target_of(const Arguments& arguments,
                                                   std::string_view option);

}  // namespace grainwright::cli
