// SPDX-License-Identifier: GPL-3.0-or-later
#include "page.hpp"

#include <algorithm>
#include <span>
#include <sstream>

#include "grainwright/utf8.hpp"

namespace grainwright::cli {
namespace {

constexpr std::string_view indent = "  ";
constexpr std::size_t column_gap = 3;

std::string blanks(std::size_t count) {
  return std::string(count, ' ');
}

/// The next word; a number keeps its unit, or whatever it counts, beside it.
bool next_word(std::istream& words, std::string& word) {
  if (!(words >> word)) return false;
  for (std::string more; word.back() >= '0' && word.back() <= '9' && words >> more;) {
    word.append(1, ' ').append(more);
  }
  return true;
}

/// Breaks a text into lines of at most `width` columns, at its spaces.
std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  std::vector<std::string> lines(1);
  std::istringstream words{std::string(text)};
  for (std::string word; next_word(words, word);) {
    std::string& line = lines.back();
    if (line.empty()) {
      line = word;
    } else if (width_of(line) + 1 + width_of(word) <= width) {
      line.append(1, ' ').append(word);
    } else {
      lines.emplace_back(word);
    }
  }
  return lines;
}

/// What stands right of a decimal point, the point included.
std::size_t tail_width(std::string_view cell) {
  std::size_t point = cell.find('.');
  return point == std::string_view::npos ? 0 : width_of(cell.substr(point));
}

/// Pads the cells of one column, head included, to one width.
void pad(std::vector<std::string>& cells, char align, bool has_head) {
  if (align == '.') {
    std::span<std::string> body = std::span(cells).subspan(has_head ? 1 : 0);
    std::size_t tail = 0;
    for (const std::string& cell : body) tail = std::max(tail, tail_width(cell));
    for (std::string& cell : body) cell += blanks(tail - tail_width(cell));
  }
  std::size_t width = 0;
  for (const std::string& cell : cells) width = std::max(width, width_of(cell));
  for (std::string& cell : cells) {
    std::string space = blanks(width - width_of(cell));
    cell = align == 'l' ? cell + space : space + cell;
  }
}

}  // namespace

std::size_t width_of(std::string_view text) {
  // Every byte of a UTF-8 character but its first looks like 10xxxxxx.
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; }));
}

void Page::heading(std::string_view text) {
  said_.push_back({.kind = Said::Kind::heading, .text = std::string(text)});
  gap();
  for (const std::string& line : wrapped(plain_line(text), page_width)) text_ += line + '\n';
}

void Page::gap() {
  if (!text_.empty()) text_ += '\n';
}

void Page::paragraph(std::string_view text) {
  said_.push_back({.kind = Said::Kind::paragraph, .text = std::string(text)});
  lay("", text);
}

void Page::item(std::string_view mark, std::string_view text) {
  said_.push_back({.kind = Said::Kind::item, .text = std::string(text)});
  lay(mark, text);
}

void Page::lay(std::string_view mark, std::string_view text) {
  std::string lead = std::string(indent) + std::string(mark);
  for (const std::string& line : wrapped(plain_line(text), page_width - width_of(lead))) {
    text_ += lead + line + '\n';
    lead = blanks(width_of(lead));
  }
}

void Page::table(const Table& table) {
  said_.push_back({.kind = Said::Kind::table, .table = table});
  bool has_head = !table.head.empty();
  std::vector<std::string> lines(table.rows.size() + (has_head ? 1 : 0));
  for (std::size_t column = 0; column < table.align.size(); ++column) {
    std::vector<std::string> cells;
    if (has_head) cells.push_back(plain_line(table.head[column]));
    for (const auto& row : table.rows) cells.push_back(plain_line(row[column]));
    pad(cells, table.align[column], has_head);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      lines[i] += (column == 0 ? std::string(indent) : blanks(column_gap)) + cells[i];
    }
  }
  for (std::string& line : lines) line.erase(line.find_last_not_of(' ') + 1);
  for (const std::string& line : lines) text_ += line + '\n';
}

void Page::next(std::string_view text) {
  gap();
  text_.append("Next: ").append(plain_line(text)).append("\n");
}

void Page::drawing(std::string_view lines) {
  text_ += lines;
}

}  // namespace grainwright::cli
