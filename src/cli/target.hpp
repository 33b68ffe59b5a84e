// SPDX-License-Identifier: GPL-3.0-or-later
//
// The files that a command is to write: settled before any work is done, kept clear of those that
// it reads, and written together. Nothing else in this room writes a file (tests/house).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "arguments.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright::cli {

class Targets {
 public:
  /// What these options name. Throws InputError where two of them name one file, or one names a
  /// file that is read: an operand, or one of `inputs`, which other options name; FileError where a
  /// file exists and --force is not given.
  Targets(const Arguments& arguments, std::initializer_list<std::string_view> options,
          const std::vector<std::string>& inputs = {});

  /// The file of an option, or nothing.
  [[nodiscard]] std::optional<std::string> file(std::string_view option) const;

  /// Throws InputError where a target is this file too; --force is no help, since what is lost is
  /// what was asked from.
  void keep_clear_of(const std::string& input) const;
  /// The same for all that a job was read from, its outlines among them.
  void keep_clear_of(const Job& job) const;

  /// What goes into the file of an option; nothing where that was not given.
  void put(std::string_view option, std::string content);
  /// Writes all that was put, or nothing. Throws FileError.
  void write() const;

 private:
  struct Target {
    std::string option;  ///< "--save"
    std::string file;
    std::optional<std::string> content = {};
  };

  void keep_apart() const;

  std::vector<Target> targets_;
  bool replace_;
};

}  // namespace grainwright::cli
