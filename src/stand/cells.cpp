// SPDX-License-Identifier: GPL-3.0-or-later
#include "cells.hpp"

#include <algorithm>
#include <charconv>

namespace grainwright {
namespace {

bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\v' || c == '\f';
}

std::string_view trimmed(std::string_view cell) {
  while (!cell.empty() && is_space(cell.front())) cell.remove_prefix(1);
  while (!cell.empty() && is_space(cell.back())) cell.remove_suffix(1);
  if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"') {
    cell = cell.substr(1, cell.size() - 2);
  }
  return cell;
}

}  // namespace

std::vector<std::string_view> cells_of(std::string_view line, char delimiter) {
  std::vector<std::string_view> cells;
  if (delimiter == ' ') {
    for (std::size_t i = 0; i < line.size();) {
      while (i < line.size() && is_space(line[i])) ++i;
      const std::size_t from = i;
      while (i < line.size() && !is_space(line[i])) ++i;
      if (i > from) cells.push_back(trimmed(line.substr(from, i - from)));
    }
    return cells;
  }
  for (std::size_t from = 0; from <= line.size();) {
    const std::size_t to = std::min(line.find(delimiter, from), line.size());
    cells.push_back(trimmed(line.substr(from, to - from)));
    from = to + 1;
  }
  return cells;
}

bool read_number(std::string_view cell, bool decimal_comma, double& value) {
  char buffer[64];
  if (!cell.empty() && cell.front() == '+') cell.remove_prefix(1);
  if (decimal_comma) {
    if (cell.size() > sizeof buffer) return false;
    std::ranges::replace_copy(cell, buffer, ',', '.');
    cell = {buffer, cell.size()};
  }
  const auto [end, problem] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  return problem == std::errc{} && end == cell.data() + cell.size();
}

bool is_blank(std::string_view line) {
  return std::ranges::all_of(line, is_space);
}

bool is_comment(std::string_view line) {
  return !line.empty() && (line.front() == '#' || line.front() == '%');
}

}  // namespace grainwright
