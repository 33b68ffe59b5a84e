// SPDX-License-Identifier: GPL-3.0-or-later
//
// The text of a job file that has been read as a job already.
#pragma once

#include <string>

namespace grainwright::cli {

/// Throws FileError where it is gone.
[[nodiscard]] std::string whole_file(const std::string& path);

}  // namespace grainwright::cli
