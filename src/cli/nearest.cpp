// SPDX-License-Identifier: GPL-3.0-or-later
#include "nearest.hpp"

#include <algorithm>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright::cli {

std::string suggestion(std::string_view given, std::span<const std::string_view> known) {
  const auto begun = std::ranges::find_if(
      known, [given](std::string_view name) { return name.starts_with(given); });
  const std::string meant =
      begun != known.end() ? std::string(*begun)
                           : nearest(given, std::vector<std::string>(known.begin(), known.end()));
  return meant.empty() ? "" : ", did you mean " + meant + "?";
}

}  // namespace grainwright::cli
