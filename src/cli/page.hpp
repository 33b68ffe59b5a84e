// SPDX-License-Identifier: GPL-3.0-or-later
//
// Text for a person: headings, paragraphs wrapped at 100 columns, and aligned tables. No colour.
// Every text passes `plain_line` before it is laid out: a name is measured as it will be shown, and
// a line break in it starts no line.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace grainwright::cli {

inline constexpr std::size_t page_width = 100;

/// Cells of text, one column of `align` each: 'l' left, 'r' right, '.' by the decimal point.
struct Table {
  std::string align;
  std::vector<std::string> head = {};  ///< may be empty
  std::vector<std::vector<std::string>> rows = {};
};

/// One thing that was said, before it was laid out.
struct Said {
  enum class Kind { heading, paragraph, item, table };
  Kind kind = Kind::paragraph;
  std::string text = {};
  Table table = {};
};

class Page {
 public:
  /// A line of its own, after a blank one.
  void heading(std::string_view text);
  void gap();
  void paragraph(std::string_view text);
  /// A paragraph that hangs behind its mark: "- ", "1 ".
  void item(std::string_view mark, std::string_view text);
  void table(const Table& table);
  /// What to do next, on one line however long, so that a command can be copied.
  void next(std::string_view text);
  /// Lines that are laid out already.
  void drawing(std::string_view lines);

  [[nodiscard]] const std::string& text() const { return text_; }
  /// The same before it was laid out; gaps, drawings and what comes next left out.
  [[nodiscard]] const std::vector<Said>& said() const { return said_; }

 private:
  void lay(std::string_view mark, std::string_view text);

  std::string text_;
  std::vector<Said> said_;
};

/// Columns that a text takes in a terminal: its UTF-8 characters.
[[nodiscard]] std::size_t width_of(std::string_view text);

}  // namespace grainwright::cli
