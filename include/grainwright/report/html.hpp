// SPDX-License-Identifier: GPL-3.0-or-later
//
// Text into a page. Everything that a person wrote (titles, file names, a whole job file) passes
// here, and comes out as text that a browser shows and never runs.
#pragma once

#include <string>
#include <string_view>

namespace grainwright {

/// Text as HTML or XML character data, fit for an attribute in double quotes too: & < > " ' become
/// references; bytes that are no UTF-8, and control characters other than tab and line feed, become
/// U+FFFD.
[[nodiscard]] std::string escaped(std::string_view text);

/// The same, set apart from the direction of the text around it, so that right-to-left letters and
/// direction overrides end with it.
[[nodiscard]] std::string set_apart(std::string_view text);

}  // namespace grainwright
