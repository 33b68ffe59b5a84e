// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/utf8.hpp"

#include <algorithm>

namespace grainwright {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";
constexpr std::uint32_t escape = 0x1B;
constexpr std::uint32_t control_sequence = 0x9B;  // CSI as one character

std::uint32_t byte_at(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}

/// Bytes of the numbers and the letter that follow a CSI; 0 where there is no letter. Rarer forms,
/// with blanks or points between, stay: they might be the words that follow a name.
std::size_t sequence_length(std::string_view text) {
  const std::size_t end = text.find_first_not_of("0123456789;:?<=>");
  if (end == std::string_view::npos) return 0;
  const std::uint32_t last = byte_at(text, end);
  const bool letter = (last >= 'A' && last <= 'Z') || (last >= 'a' && last <= 'z');
  return letter ? end + 1 : 0;
}

/// Bytes that the command at the front of a text takes.
std::size_t command_length(std::string_view text, const Character& first) {
  std::size_t introducer = first.size;
  if (first.code == escape && text.substr(1, 1) == "[") {
    introducer = 2;
  } else if (first.code != control_sequence) {
    return first.size;
  }
  const std::size_t rest = sequence_length(text.substr(introducer));
  return rest == 0 ? first.size : introducer + rest;
}

std::string plain(std::string_view text, std::string_view line_feed) {
  std::string result;
  result.reserve(text.size());
  while (!text.empty()) {
    const Character next = character_at(text);
    std::size_t taken = next.size;
    if (!next.sound) {
      result += replacement;
    } else if (next.code == '\n') {
      result += line_feed;
    } else if (next.code == '\t') {
      result += ' ';
    } else if (commands_terminal(next.code)) {
      taken = command_length(text, next);
    } else {
      result += text.substr(0, next.size);
    }
    text.remove_prefix(taken);
  }
  return result;
}

}  // namespace

Character character_at(std::string_view text) {
  const std::uint32_t lead = byte_at(text, 0);
  if (lead < 0x80) return {1, lead, true};
  const std::size_t size = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < size) return {};
  std::uint32_t code = lead & (0x7FU >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte_at(text, i) & 0xC0U) != 0x80U) return {};
    code = code << 6U | (byte_at(text, i) & 0x3FU);
  }
  constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return {size, code, code >= least[size] && code <= 0x10FFFF && !surrogate};
}

bool commands_terminal(std::uint32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x202A && code <= 0x202E) ||
         (code >= 0x2066 && code <= 0x2069);
}

std::string plain_text(std::string_view text) {
  return plain(text, "\n");
}

std::string plain_line(std::string_view text) {
  return plain(text, " ");
}

}  // namespace grainwright
