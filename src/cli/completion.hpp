// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the three common shells need to complete a command line, made from the table of commands.
#pragma once

#include <span>
#include <string>

#include "command.hpp"

namespace grainwright::cli {

/// Scripts for completion: commands, their options, the words that an option chooses from, and
/// files where a file is due.
[[nodiscard]] std::string bash_completion(std::span<const Command> commands);
[[nodiscard]] std::string zsh_completion(std::span<const Command> commands);
[[nodiscard]] std::string fish_completion(std::span<const Command> commands);

}  // namespace grainwright::cli
