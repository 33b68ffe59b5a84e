// SPDX-License-Identifier: GPL-3.0-or-later
//
// Any bytes are a log that is read, with every row accounted for, or refused in words.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "grainwright/error.hpp"
#include "grainwright/stand/figures.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace grainwright;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    Log log = parse_log(text, "fuzz", {.time_unit = "s", .force_unit = "N"});
    std::size_t faulty = 0;
    for (const FaultCount& fault : log.faults) faulty += fault.count;
    if (log.time.size() + faulty != log.rows) std::abort();
    for (std::size_t i = 1; i < log.time.size(); ++i) {
      if (!(log.time[i] > log.time[i - 1])) std::abort();
    }
    static_cast<void>(figures_of(cleaned(std::move(log))));
  } catch (const InputError&) {
    // Refused, which is an answer.
  }
  return 0;
}
