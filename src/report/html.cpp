// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/html.hpp"

#include <cstdint>

#include "grainwright/utf8.hpp"

namespace grainwright {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";

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
