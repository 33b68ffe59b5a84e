// SPDX-License-Identifier: GPL-3.0-or-later
//
// Why a log must not teach a law. What is doubted is said with its figures; nothing is saved from
// such a log unless a person insists, and then the law says so itself.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace grainwright {

/// What is wrong with a log or with the law that it would teach.
enum class DoubtKind {
  cut,           ///< begins or ends in the burn
  several,       ///< more than one firing
  clipped,       ///< the scale at its end
  saturated,     ///< the scale bends over before its end
  too_strong,    ///< more thrust than a perfect nozzle gives
  efficiency,    ///< outside what nozzles have
  time_base,     ///< impulse and mass are at odds by a factor of the clock's
  left_over,     ///< the firing that fits best does not fit
  out_of_range,  ///< something ran to the end of what it may change
  round_trip,    ///< fired with the law, the motor does not do what the log says
};

struct Doubt {
  DoubtKind kind = DoubtKind::cut;
  std::string words;  ///< what is seen, with its figures, and what would explain it
};

/// As data tell it: "begins or ends in the burn", ...
[[nodiscard]] std::string_view words_for(DoubtKind kind);

/// The words of all, in one line.
[[nodiscard]] std::string words_of(const std::vector<Doubt>& doubts);

}  // namespace grainwright
