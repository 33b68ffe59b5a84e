// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a log is laid out: found from its first lines, and from what a person says of it.
#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "cells.hpp"
#include "grainwright/stand/log.hpp"

namespace grainwright {

inline constexpr std::size_t no_column = std::numeric_limits<std::size_t>::max();

/// A column and what one of its numbers is in SI.
struct LogColumn {
  std::size_t index = no_column;
  double factor = 1;
};

struct LogLayout {
  char delimiter = ',';
  bool decimal_comma = false;
  std::size_t first_row = 0;  ///< lines above the first row of numbers
  LogColumn time;             ///< no column: time is row / rate
  LogColumn force;
  LogColumn pressure;
  bool counts_samples = false;  ///< time is a sample number
  std::string words;
};

/// From the first lines of a log. Throws InputError as read_log does.
[[nodiscard]] LogLayout layout_of(const std::vector<std::string_view>& lines,
                                  const std::string& name, const LogFormat& format);

}  // namespace grainwright
