// SPDX-License-Identifier: GPL-3.0-or-later
//
// Lines of a log taken apart into cells, by RFC 4180: a cell that begins with a quote goes on to
// the next single quote, whatever is between; two quotes are one. A quote further in is a quote.
// Cells are parted by any one delimiter, or by runs of blanks, and blanks around them are not part
// of them. libcsv and its like hand out each cell as text of its own, byte by byte: over a log's
// millions of cells that is most of the time that there is.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace grainwright {

/// A cell as it stands in its line, without the quotes around it.
struct Cell {
  std::string_view text;
  bool quoted = false;
  bool open = false;  ///< its quote is never closed
};

/// The next cell, taken off the line with the delimiter behind it. The line may be empty: the cell
/// then is too.
[[nodiscard]] Cell next_cell(std::string_view& line, char delimiter);
/// The cells of a whole line.
[[nodiscard]] std::vector<Cell> cells_of(std::string_view line, char delimiter);
/// What a cell says: two quotes are one.
[[nodiscard]] std::string text_of(const Cell& cell);

/// How numbers are written.
struct NumberStyle {
  bool decimal_comma = false;
};
/// The number that a cell is; true where it is one and nothing else. Thousands may be set apart, by
/// threes throughout, with a point or comma that is not the decimal sign, an apostrophe, or a blank
/// (a narrow or hard one too): "1,234.5", "1.234,5", "1 234"; `grouped` is then set.
[[nodiscard]] bool read_number(const Cell& cell, const NumberStyle& style, double& value,
                               bool* grouped = nullptr);

/// Nothing on it, or a remark.
[[nodiscard]] bool is_blank(std::string_view line);
[[nodiscard]] bool is_comment(std::string_view line);

}  // namespace grainwright
