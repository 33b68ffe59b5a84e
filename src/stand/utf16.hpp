// SPDX-License-Identifier: GPL-3.0-or-later
//
// Text in UTF-16, as spreadsheets save it, turned into UTF-8 as it streams by.
#pragma once

#include <string>
#include <string_view>

namespace grainwright {

class Utf16 {
 public:
  explicit Utf16(bool high_byte_first) : high_first_(high_byte_first) {}
  /// The next bytes, appended to `text` as UTF-8; what is no character becomes U+FFFD.
  void turn(std::string_view bytes, std::string& text);

 private:
  void take(unsigned unit, std::string& text);

  bool high_first_;
  std::string odd_;      // a byte whose other half is not there yet
  unsigned before_ = 0;  // the first half of a pair of surrogates
};

}  // namespace grainwright
