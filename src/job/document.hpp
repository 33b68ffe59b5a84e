// SPDX-License-Identifier: GPL-3.0-or-later
//
// A TOML document as a plain tree in which every key and value knows where it stands. The TOML
// library is asked in document.cpp alone.
#pragma once

#include <compare>
#include <string>
#include <string_view>
#include <vector>

namespace grainwright {

/// Counted from 1; columns in characters, not bytes.
struct Position {
  int line = 0;
  int column = 0;
  auto operator<=>(const Position&) const = default;
};

struct Entry;

struct Node {
  enum class Form { table, list, text, whole, real, other };

  Form form = Form::other;
  Position begin;              ///< of a headed table, its header
  Position end;                ///< one past the value; of a headed table, of its header
  bool in_braces = false;      ///< a table written { ... }
  std::string text;            ///< the text; of any other scalar, as it would be written
  double number = 0;           ///< of whole and real
  std::vector<Entry> entries;  ///< of a table, in the order of the file
  std::vector<Node> items;     ///< of a list

  [[nodiscard]] bool is_number() const { return form == Form::whole || form == Form::real; }
  /// A list of two.
  [[nodiscard]] bool is_pair() const { return form == Form::list && items.size() == 2; }
  [[nodiscard]] const Entry* find(std::string_view key) const;
  /// What it is in a few words for a complaint: "\"3/8 in\"", "3", "a list", "a table".
  [[nodiscard]] std::string words() const;
};

struct Entry {
  std::string key;
  Position begin;
  Node value;
};

/// Throws InputError with line and column where the text is no TOML; `name` stands for the file.
[[nodiscard]] Node parse_document(std::string_view text, const std::string& name);

}  // namespace grainwright
