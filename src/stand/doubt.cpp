// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/doubt.hpp"

namespace grainwright {

std::string_view words_for(DoubtKind kind) {
  switch (kind) {
    case DoubtKind::cut:
      return "begins or ends in the burn";
    case DoubtKind::several:
      return "more than one firing";
    case DoubtKind::clipped:
      return "scale at its end";
    case DoubtKind::saturated:
      return "scale bends over";
    case DoubtKind::too_strong:
      return "more thrust than a perfect nozzle gives";
    case DoubtKind::efficiency:
      return "efficiency outside what nozzles have";
    case DoubtKind::time_base:
      return "time base at odds with impulse and mass";
    case DoubtKind::left_over:
      return "no firing of the job fits";
    case DoubtKind::out_of_range:
      return "no such motor";
    case DoubtKind::round_trip:
      return "the law does not give the firing back";
  }
  return "";
}

std::string words_of(const std::vector<Doubt>& doubts) {
  std::string words;
  for (const Doubt& doubt : doubts) {
    if (!words.empty()) words += "; ";
    words += words_for(doubt.kind);
  }
  return words;
}

}  // namespace grainwright
