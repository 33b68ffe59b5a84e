// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the job file may hold, once: the reader checks against these rules, and job_keys() shows
// them.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/quantity.hpp"

namespace grainwright {

/// What a value is: how it is written, and of which dimension.
struct ValueKind {
  enum class Form { text, quantity, whole, free };  ///< free: the reader of that key knows

  std::string_view words;
  Form form = Form::text;
  Dimension dimension = Dimension::ratio;
  bool bare_zero = false;  ///< 0 is taken without a unit
};

/// Which numbers are allowed.
struct Range {
  std::string_view words;
  bool (*holds)(double value) = [](double) { return true; };
};

struct Rule {
  std::string_view path;  ///< as in JobKey; a list of tables is "name[]", any name is "*"
  ValueKind kind;
  std::string_view standing;
  Range range;
  std::string_view meaning;
};

[[nodiscard]] std::span<const Rule> rules();
/// Null where there is no such key.
[[nodiscard]] const Rule* find_rule(std::string_view path);
/// The keys and tables directly under a table's path; the tables of the file for "".
[[nodiscard]] std::vector<std::string> names_under(std::string_view path);
/// Path of the table that has a key of this name, for "it belongs in [nozzle]"; empty if none has.
[[nodiscard]] std::string table_with(std::string_view key);

}  // namespace grainwright
