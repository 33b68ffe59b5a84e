// SPDX-License-Identifier: GPL-3.0-or-later
#include "utf16.hpp"

namespace grainwright {
namespace {

constexpr unsigned no_character = 0xFFFD;

// The Unicode Standard, table 3-6: UTF-8 bit distribution.
void append(unsigned code, std::string& text) {
  const auto put = [&](unsigned byte) { text += static_cast<char>(byte); };
  if (code < 0x80) return put(code);
  if (code < 0x800) {
    put(0xC0U | code >> 6U);
  } else {
    if (code < 0x10000) {
      put(0xE0U | code >> 12U);
    } else {
      put(0xF0U | code >> 18U);
      put(0x80U | (code >> 12U & 0x3FU));
    }
    put(0x80U | (code >> 6U & 0x3FU));
  }
  put(0x80U | (code & 0x3FU));
}

}  // namespace

void Utf16::turn(std::string_view bytes, std::string& text) {
  for (const char byte : bytes) {
    odd_ += byte;
    if (odd_.size() < 2) continue;
    const auto one = static_cast<unsigned char>(odd_[0]);
    const auto two = static_cast<unsigned char>(odd_[1]);
    odd_.clear();
    take(high_first_ ? one * 256U + two : two * 256U + one, text);
  }
}

void Utf16::take(unsigned unit, std::string& text) {
  const bool high = unit >= 0xD800 && unit < 0xDC00;
  const bool low = unit >= 0xDC00 && unit < 0xE000;
  if (before_ != 0) {
    const unsigned first = before_;
    before_ = 0;
    if (low) return append(0x10000 + ((first - 0xD800) << 10U) + (unit - 0xDC00), text);
    append(no_character, text);
  }
  if (high) {
    before_ = unit;
  } else {
    append(low ? no_character : unit, text);
  }
}

}  // namespace grainwright
