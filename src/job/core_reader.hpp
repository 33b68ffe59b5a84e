// SPDX-License-Identifier: GPL-3.0-or-later
//
// A segment's core: a diameter, or a table for any other; and the slots cut into it.
#pragma once

#include <filesystem>
#include <string>

#include "grainwright/grain/segment.hpp"
#include "section.hpp"

namespace grainwright {

/// Sets the core of `segment`. Files with outlines are looked for in `folder`.
void read_core(Section& section, const std::filesystem::path& folder, Segment& segment);

/// A file's whole text. Throws FileError where it cannot be read or is no text of a job's size.
[[nodiscard]] std::string content_of(const std::filesystem::path& path);

}  // namespace grainwright
