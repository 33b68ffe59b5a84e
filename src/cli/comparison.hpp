// SPDX-License-Identifier: GPL-3.0-or-later
//
// Builds laid side by side: figures in columns, curves over each other; in text, JSON or a page.
#pragma once

#include <string>
#include <vector>

#include "command.hpp"
#include "report_chapters.hpp"

namespace grainwright::cli {

/// `design --compare`: the job files are the operands, two to four of them.
[[nodiscard]] Output compare(const Arguments& arguments);

}  // namespace grainwright::cli
