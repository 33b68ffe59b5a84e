// SPDX-License-Identifier: GPL-3.0-or-later
//
// What this program is and was built with. No path and no date: the same source gives the same
// bytes.
#pragma once

#include <string>
#include <string_view>

namespace grainwright::cli {

inline constexpr std::string_view purpose =
    "sizes, predicts and searches segmented solid motors before the pour";

/// "1.2.3".
[[nodiscard]] std::string_view version();

/// What `--version` prints: version, compiler, kind of build, libraries, licence.
[[nodiscard]] std::string build_facts();

}  // namespace grainwright::cli
