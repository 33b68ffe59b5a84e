// SPDX-License-Identifier: GPL-3.0-or-later
//
// Changing the text of a job where it must change, and nowhere else.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "document.hpp"

namespace grainwright {

/// A text and what is to change in it. Changes are collected against the text as it was.
class Edit {
 public:
  explicit Edit(std::string_view text)
      : text_(text), newline_(text.find("\r\n") != std::string_view::npos ? "\r\n" : "\n") {}

  [[nodiscard]] char at(Position position) const { return text_[offset(position)]; }

  void replace(Position begin, Position end, std::string with) {
    changes_.push_back({offset(begin), offset(end), std::move(with)});
  }
  void remove_lines(int first, int last) {
    changes_.push_back({line_start(first), line_start(last + 1), ""});
  }
  /// The first of the empty lines that end just above this line, or this line where there are none.
  [[nodiscard]] int first_blank_above(int line) const {
    while (line > 1 && is_blank(line - 1)) --line;
    return line;
  }
  void insert_line(int before, std::string line) {
    const std::size_t where = line_start(before);
    const bool open_end = where == text_.size() && !text_.empty() && text_.back() != '\n';
    changes_.push_back({where, where, (open_end ? newline_ : "") + with_newlines(line + '\n')});
  }
  void append(std::string lines) {
    insert_line(1 + static_cast<int>(std::ranges::count(text_, '\n')) + 1, '\n' + std::move(lines));
  }

  /// The changed text.
  [[nodiscard]] std::string done() {
    std::ranges::stable_sort(changes_, {}, &Change::begin);
    std::string result;
    std::size_t kept = 0;
    for (const Change& change : changes_) {
      result.append(text_.substr(kept, change.begin - kept)).append(change.with);
      kept = change.end;
    }
    return result.append(text_.substr(kept));
  }

 private:
  struct Change {
    std::size_t begin;
    std::size_t end;
    std::string with;
  };

  [[nodiscard]] std::size_t line_start(int line) const {
    std::size_t start = 0;
    for (int i = 1; i < line; ++i) {
      const std::size_t end = text_.find('\n', start);
      if (end == std::string_view::npos) return text_.size();
      start = end + 1;
    }
    return start;
  }

  [[nodiscard]] bool is_blank(int line) const {
    const std::size_t start = line_start(line);
    const auto content = text_.substr(start, line_start(line + 1) - start);
    return content.find_first_not_of(" \t\r\n") == std::string_view::npos;
  }

  /// Columns count characters; the bytes 10xxxxxx of UTF-8 go on with the one before.
  [[nodiscard]] std::size_t offset(Position position) const {
    const auto goes_on = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
    std::size_t i = line_start(position.line);
    for (int column = 1; column < position.column; ++column) {
      ++i;
      while (i < text_.size() && goes_on(text_[i])) ++i;
    }
    return std::min(i, text_.size());
  }

  [[nodiscard]] std::string with_newlines(std::string_view lines) const {
    std::string result;
    for (char c : lines) result += c == '\n' ? newline_ : std::string(1, c);
    return result;
  }

  std::string_view text_;
  std::string newline_;
  std::vector<Change> changes_;
};

/// The value of a key under a table's dotted path; null where there is none.
[[nodiscard]] const Node* value_at(const Node& document, std::string_view table,
                                   std::string_view key);

/// Sets table.key to a value as it would be written, wherever the document has it or could have it.
void set(Edit& edit, const Node& document, const std::string& table, const std::string& key,
         const std::string& value);

}  // namespace grainwright
