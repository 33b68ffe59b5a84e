// SPDX-License-Identifier: GPL-3.0-or-later
#include "assets.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cstdint>

#include "grainwright/report/html.hpp"

namespace grainwright {

std::string base64_of_hexadecimal(std::string_view digits) {
  constexpr std::string_view letters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  // Three bytes, six digits, make four letters; a shorter end is filled up with "=".
  for (; !digits.empty(); digits.remove_prefix(std::min<std::size_t>(6, digits.size()))) {
    const std::string_view group = digits.substr(0, 6);
    std::uint32_t bits = 0;
    std::from_chars(group.data(), group.data() + group.size(), bits, 16);
    bits <<= 4 * (6 - group.size());
    for (std::size_t i = 0; i < 4; ++i) {
      text += 2 * i <= group.size() ? letters[bits >> (18 - 6 * i) & 63U] : '=';
    }
  }
  return text;
}

std::string page_opening(std::string_view title, std::string_view style, std::string_view script) {
  const std::string allowed =
      script.empty() ? "" : "; script-src 'sha256-" + base64_of_hexadecimal(script) + "'";
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
      "'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'{}\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"color-scheme\" content=\"light dark\">\n"
      "<link rel=\"icon\" "
      "href=\"data:,\">\n<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n",
      allowed, escaped(title), style);
}

}  // namespace grainwright
