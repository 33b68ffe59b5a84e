// SPDX-License-Identifier: GPL-3.0-or-later
//
// Characters of UTF-8, and those among them that are commands to a terminal rather than text.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace grainwright {

struct Character {
  std::size_t size = 1;  ///< bytes
  std::uint32_t code = 0;
  bool sound = false;
};

/// The first character of a text that is not empty, as RFC 3629 has it: no overlong forms, no
/// surrogates, nothing past U+10FFFF. What is unsound counts as one byte.
[[nodiscard]] Character character_at(std::string_view text);

/// Whether it is no text but a command: C0 with tab and line feed, DEL, C1, and the characters that
/// override or isolate the direction of writing (U+202A to U+202E, U+2066 to U+2069).
[[nodiscard]] bool commands_terminal(std::uint32_t code);

/// Text that a terminal shows and does not obey, line feeds kept: tabs become blanks; other
/// commands are left out, a control sequence (CSI, ECMA-48) with its numbers and its letter; bytes
/// that are no UTF-8 become U+FFFD. What would print by itself is otherwise never left out, so that
/// no figure behind a spoilt name is lost.
[[nodiscard]] std::string plain_text(std::string_view text);

/// The same as one line: line feeds become blanks too.
[[nodiscard]] std::string plain_line(std::string_view text);

}  // namespace grainwright
