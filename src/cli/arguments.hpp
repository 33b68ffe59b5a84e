// SPDX-License-Identifier: GPL-3.0-or-later
//
// The words of a command line, read against the options that the command declares.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright::cli {

enum class Format { text, json, csv };

/// Every reader below throws InputError that names the option, what was given and what is allowed.
class Arguments {
 public:
  /// `words` is what follows the command's name. A request for help is accepted whatever else is
  /// missing; see `wants_help`.
  Arguments(const Command& command, std::span<const char* const> words);

  [[nodiscard]] bool wants_help() const { return has("help"); }
  [[nodiscard]] bool has(std::string_view option) const { return given_.contains(option); }
  /// The file or whatever else the command works on.
  [[nodiscard]] const std::string& operand() const { return operands_.front(); }
  /// All of them, for a command that takes several.
  [[nodiscard]] const std::vector<std::string>& operands() const { return operands_; }
  [[nodiscard]] std::optional<std::string> text(std::string_view option) const;
  /// SI; the option must be given.
  [[nodiscard]] double quantity(std::string_view option, Dimension dimension) const;
  [[nodiscard]] double quantity(std::string_view option, Dimension dimension,
                                double otherwise) const;
  [[nodiscard]] int whole_number(std::string_view option, int least, int most, int otherwise) const;
  [[nodiscard]] std::optional<UnitSystem> units() const;
  [[nodiscard]] Format format() const;

 private:
  std::map<std::string, std::string, std::less<>> given_;
  std::vector<std::string> operands_;
};

/// What `--help` prints for one command.
[[nodiscard]] std::string help_for(const Command& command);
/// What `--help` prints for the program.
[[nodiscard]] std::string help_for(std::span<const Command> commands);

}  // namespace grainwright::cli
