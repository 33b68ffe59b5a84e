// SPDX-License-Identifier: GPL-3.0-or-later
//
// Lines of a log taken apart.
#pragma once

#include <string_view>
#include <vector>

namespace grainwright {

/// The cells of a line. Blanks around them are not part of them.
[[nodiscard]] std::vector<std::string_view> cells_of(std::string_view line, char delimiter);
/// The number that a cell is; true where it is one and nothing else.
[[nodiscard]] bool read_number(std::string_view cell, bool decimal_comma, double& value);
/// Nothing on it, or a remark.
[[nodiscard]] bool is_blank(std::string_view line);
[[nodiscard]] bool is_comment(std::string_view line);

}  // namespace grainwright
