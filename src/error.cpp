// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/error.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace grainwright {
namespace {

constexpr std::size_t most_told = 100;  // nobody reads more; a spoilt file has thousands

std::string joined(const std::vector<Complaint>& complaints) {
  std::string text;
  const std::size_t told = std::min(complaints.size(), most_told);
  for (std::size_t i = 0; i < told; ++i) {
    if (i > 0) text += '\n';
    text += complaints[i].text();
  }
  if (const std::size_t left = complaints.size() - told; left > 0) {
    text += "\nand ";
    text += std::to_string(left);
    text += left == 1 ? " complaint more" : " complaints more";
  }
  return text;
}

/// A value may run over several lines, a complaint may not: the next line is the next complaint.
std::string in_one_line(std::string text) {
  std::ranges::replace(text, '\n', ' ');
  std::ranges::replace(text, '\r', ' ');
  return text;
}

/// Edits between two names; two neighbours swapped count as one.
std::size_t edits(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) {
    for (std::size_t j = 0; j <= b.size(); ++j) {
      if (i == 0 || j == 0) {
        d[i][j] = i + j;
        continue;
      }
      d[i][j] = std::min(
          {d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
      }
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::string Complaint::text() const {
  std::string text = place.file;
  if (place.line > 0) text += ':' + std::to_string(place.line);
  if (place.column > 0) text += ':' + std::to_string(place.column);
  for (const std::string& part : {key, given, allowed}) {
    if (part.empty()) continue;
    if (!text.empty()) text += ": ";
    text += part;
  }
  return in_one_line(std::move(text));
}

InputError::InputError(std::vector<Complaint> complaints)
    : Error(joined(complaints)), complaints_(std::move(complaints)) {}

InputError::InputError(std::string key, std::string given, std::string allowed)
    : InputError(std::vector<Complaint>{{std::move(key), std::move(given), std::move(allowed)}}) {}

FileError::FileError(const std::string& path, const std::string& reason)
    : Error(in_one_line(path + ": " + reason)) {}

std::string nearest(std::string_view name, const std::vector<std::string>& candidates) {
  constexpr std::size_t longest_name = 64;  // nobody means a key with a longer one
  if (name.size() > longest_name) return "";
  std::string best;
  std::size_t fewest = std::max<std::size_t>(1, (name.size() + 1) / 3) + 1;
  for (const std::string& candidate : candidates) {
    if (const std::size_t count = edits(name, candidate); count < fewest) {
      fewest = count;
      best = candidate;
    }
  }
  return best;
}

}  // namespace grainwright
