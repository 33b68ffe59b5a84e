// SPDX-License-Identifier: GPL-3.0-or-later
//
// Any bytes are a log that is read, with every row accounted for, or refused in words.
#include "fuzz/support.hpp"
#include "grainwright/error.hpp"
#include "grainwright/stand/figures.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace grainwright;
  try {
    Log log = parse_log(fuzz::text_of(data, size), "fuzz", {.time_unit = "s", .force_unit = "N"});
    std::size_t faulty = 0;
    for (const FaultCount& fault : log.faults) faulty += fault.count;
    fuzz::demand(log.time.size() + faulty == log.rows, "every row is accounted for");
    for (std::size_t i = 1; i < log.time.size(); ++i) {
      fuzz::demand(log.time[i] > log.time[i - 1], "time rises");
    }
    static_cast<void>(figures_of(cleaned(std::move(log))));
  } catch (const InputError&) {
    // Refused, which is an answer.
  }
  return 0;
}
