// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/html.hpp"

#include <cstdint>

namespace grainwright {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";

struct Character {
  std::size_t size = 1;
  std::uint32_t code = 0;
  bool sound = false;
};

std::uint32_t byte_at(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}

// One character of UTF-8 as RFC 3629 has it: no overlong forms, no surrogates, nothing past
// U+10FFFF. What is unsound counts as one byte.
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

// Control characters, and the two that Unicode sets aside for no text at all.
bool forbidden(std::uint32_t code) {
  if (code < 0x20) return code != '\t' && code != '\n';
  return (code >= 0x7F && code < 0xA0) || (code & 0xFFFEU) == 0xFFFEU ||
         (code >= 0xFDD0 && code <= 0xFDEF);
}

std::string_view reference(std::uint32_t code) {
  switch (code) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    case '\'':
      return "&#39;";
    default:
      return {};
  }
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string html;
  html.reserve(text.size());
  while (!text.empty()) {
    const Character next = character_at(text);
    const std::string_view stand_in =
        !next.sound || forbidden(next.code) ? replacement : reference(next.code);
    html += stand_in.empty() ? text.substr(0, next.size) : stand_in;
    text.remove_prefix(next.sound ? next.size : 1);
  }
  return html;
}

std::string set_apart(std::string_view text) {
  return "<bdi>" + escaped(text) + "</bdi>";
}

}  // namespace grainwright
