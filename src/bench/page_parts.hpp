// SPDX-License-Identifier: GPL-3.0-or-later
//
// The page's own files, put into the program by the build.
#pragma once

#include <span>
#include <string_view>

namespace grainwright::bench {

struct PagePart {
  std::string_view name;  ///< as in the address; empty for the page itself
  std::string_view type;
  std::string_view text;
};

[[nodiscard]] std::span<const PagePart> page_parts();

}  // namespace grainwright::bench
