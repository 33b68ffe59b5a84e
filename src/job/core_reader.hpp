// SPDX-License-Identifier: GPL-3.0-or-later
//
// A segment's core: a diameter, or a table for any other; and the slots cut into it.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/grain/core.hpp"
#include "section.hpp"

namespace grainwright {

/// Sets the core of `segment`. Files with outlines are looked for in `folder`.
void read_core(Section& section, const std::filesystem::path& folder, Segment& segment);

/// The cores that the tables under a key hold, each as the table of a segment's core; those of
/// rods, which are the same from end to end.
[[nodiscard]] std::vector<Core> read_cores(Section& section, std::string_view key,
                                           const std::filesystem::path& folder);

/// Whether an outline's source is its text rather than the name of a file.
[[nodiscard]] bool is_wkt(std::string_view source);

/// A file's whole text. Throws FileError where it cannot be read or is no text of a job's size.
[[nodiscard]] std::string content_of(const std::filesystem::path& path);

}  // namespace grainwright
