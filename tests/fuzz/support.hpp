// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the fuzzers share.
#pragma once

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

namespace fuzz {

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
  return size == 0 ? std::string_view{}
                   : std::string_view(reinterpret_cast<const char*>(data), size);
}

/// Ends the run, so that libFuzzer keeps the input.
inline void demand(bool kept, const char* promise) {
  if (kept) return;
  std::fprintf(stderr, "broken: %s\n", promise);
  std::abort();
}

}  // namespace fuzz
