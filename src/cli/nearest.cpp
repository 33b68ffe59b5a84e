// SPDX-License-Identifier: GPL-3.0-or-later
#include "nearest.hpp"

#include <algorithm>
#include <numeric>
#include <utility>
#include <vector>

namespace grainwright::cli {
namespace {

/// Levenshtein distance, one row of the table at a time.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i + 1);
    for (std::size_t j = 0; j < b.size(); ++j) {
      std::size_t exchanged = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({exchanged, row[j] + 1, row[j + 1] + 1});
    }
  }
  return row.back();
}

}  // namespace

std::string suggestion(std::string_view given, std::span<const std::string_view> known) {
  auto off = [given](std::string_view name) {
    return name.starts_with(given) ? 0 : distance(given, name);
  };
  auto nearest = std::ranges::min_element(known, {}, off);
  if (nearest == known.end() || 3 * off(*nearest) > nearest->size()) return {};
  return ", did you mean " + std::string(*nearest) + "?";
}

}  // namespace grainwright::cli
