// SPDX-License-Identifier: GPL-3.0-or-later
#include "cells.hpp"

#include <algorithm>
#include <charconv>

namespace grainwright {
namespace {

bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\v' || c == '\f';
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool parsed(std::string_view text, double& value) {
  const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
  return problem == std::errc{} && end == text.data() + text.size();
}

/// Takes one sign that sets thousands apart off the front; empty where there is none.
std::string_view separator_of(std::string_view text, bool decimal_comma) {
  for (const std::string_view one : {"'", " ", "\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x99"}) {
    if (text.starts_with(one)) return text.substr(0, one.size());
  }
  const char other = decimal_comma ? '.' : ',';
  return !text.empty() && text.front() == other ? text.substr(0, 1) : std::string_view();
}

/// A number with its thousands set apart, by threes and by one sign throughout.
bool read_grouped(std::string_view text, bool decimal_comma, double& value) {
  std::string plain;
  if (!text.empty() && text.front() == '-') {
    plain = "-";
    text.remove_prefix(1);
  }
  std::size_t digits = 0;
  while (digits < text.size() && is_digit(text[digits])) ++digits;
  if (digits < 1 || digits > 3 || text.front() == '0') return false;
  plain += text.substr(0, digits);
  text.remove_prefix(digits);
  const std::string separator(separator_of(text, decimal_comma));
  if (separator.empty()) return false;
  while (text.starts_with(separator)) {
    text.remove_prefix(separator.size());
    if (text.size() < 3 || !std::all_of(text.begin(), text.begin() + 3, is_digit)) return false;
    plain += text.substr(0, 3);
    text.remove_prefix(3);
    if (!text.empty() && is_digit(text.front())) return false;
  }
  if (!text.empty() && text.front() == (decimal_comma ? ',' : '.')) {
    plain += '.';
    text.remove_prefix(1);
  }
  return parsed(plain.append(text), value);
}

}  // namespace

Cell next_cell(std::string_view& line, char delimiter) {
  const bool blanks = delimiter == ' ';
  const auto trim_front = [&] {
    while (!line.empty() && is_space(line.front()) && (blanks || line.front() != delimiter)) {
      line.remove_prefix(1);
    }
  };
  trim_front();
  Cell cell;
  std::size_t end = 0;
  if (!line.empty() && line.front() == '"') {
    cell.quoted = true;
    std::size_t close = line.find('"', 1);
    while (close != std::string_view::npos && close + 1 < line.size() && line[close + 1] == '"') {
      close = line.find('"', close + 2);
    }
    cell.open = close == std::string_view::npos;
    cell.text = line.substr(1, cell.open ? std::string_view::npos : close - 1);
    end = cell.open ? line.size() : close + 1;
  }
  const std::size_t from = end;
  if (blanks) {
    while (end < line.size() && !is_space(line[end])) ++end;
  } else {
    end = std::min(line.find(delimiter, end), line.size());
  }
  // What stands behind a closing quote belongs to no cell of RFC 4180: then the quotes are text.
  if (cell.quoted && !cell.open && !is_blank(line.substr(from, end - from))) cell.quoted = false;
  if (!cell.quoted) {
    cell.text = line.substr(0, end);
    while (!cell.text.empty() && is_space(cell.text.back())) cell.text.remove_suffix(1);
  }
  line.remove_prefix(std::min(end + 1, line.size()));
  if (blanks) trim_front();
  return cell;
}

std::vector<Cell> cells_of(std::string_view line, char delimiter) {
  std::vector<Cell> cells;
  const bool blanks = delimiter == ' ';
  if (blanks && is_blank(line)) return cells;
  while (true) {
    const char* begin = line.data();
    const std::size_t size = line.size();
    cells.push_back(next_cell(line, delimiter));
    if (!line.empty()) continue;
    // A delimiter at the end has an empty cell behind it.
    const bool more = !blanks && size > 0 && begin[size - 1] == delimiter && !cells.back().open;
    if (more) cells.push_back({});
    return cells;
  }
}

std::string text_of(const Cell& cell) {
  std::string text(cell.text);
  if (!cell.quoted) return text;
  for (std::size_t at = text.find("\"\""); at != std::string::npos;
       at = text.find("\"\"", at + 1)) {
    text.erase(at, 1);
  }
  return text;
}

bool read_number(const Cell& cell, const NumberStyle& style, double& value, bool* grouped) {
  std::string_view text = cell.text;
  if (cell.quoted) {
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  }
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  if (!style.decimal_comma) {
    if (parsed(text, value)) return true;
  } else {
    char buffer[64];
    if (text.size() > sizeof buffer) return false;
    if (text.find('.') == std::string_view::npos) {
      std::ranges::replace_copy(text, buffer, ',', '.');
      if (parsed({buffer, text.size()}, value)) return true;
    }
  }
  const bool read = read_grouped(text, style.decimal_comma, value);
  if (read && grouped != nullptr) *grouped = true;
  return read;
}

bool is_blank(std::string_view line) {
  return std::ranges::all_of(line, is_space);
}

bool is_comment(std::string_view line) {
  return !line.empty() && (line.front() == '#' || line.front() == '%');
}

}  // namespace grainwright
