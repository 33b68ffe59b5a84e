// SPDX-License-Identifier: GPL-3.0-or-later
//
// What every page carries, put into the library by the build.
#pragma once

#include <string>
#include <string_view>

namespace grainwright {

extern const std::string_view page_style;
extern const std::string_view page_script;         ///< dygraphs with its licence, and our own
extern const std::string_view page_script_digest;  ///< SHA-256 of it, in hexadecimal
extern const std::string_view sheet_style;

/// The digest as a content security policy names it: base64.
[[nodiscard]] std::string base64_of_hexadecimal(std::string_view digits);

/// From the doctype to the opened body. `script` is the digest of the one script that may run; ""
/// for none.
[[nodiscard]] std::string page_opening(std::string_view title, std::string_view style,
                                       std::string_view script);

}  // namespace grainwright
