// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/tolerances.hpp"

namespace grainwright {

Spread Tolerances::trade_limits(double limit) {
  Spread spread = Spread::within(Distribution::uniform, limit, false);
  spread.by_trade = true;
  return spread;
}

const std::vector<NamedTolerance>& named_tolerances() {
  static const std::vector<NamedTolerance> all = {
      {"burn_rate", "burn rate", &Tolerances::burn_rate},
      {"density", "density", &Tolerances::density},
      {"characteristic_velocity", "c*", &Tolerances::characteristic_velocity},
      {"nozzle_efficiency", "nozzle efficiency", &Tolerances::nozzle_efficiency},
      {"throat", "throat", &Tolerances::throat},
      {"core", "core", &Tolerances::core},
      {"length", "segment length", &Tolerances::length},
      {"temperature", "grain temperature", &Tolerances::temperature},
      {"pipe_strength", "strength of the pipe", &Tolerances::pipe_strength},
      {"head_strength", "strength of the head closure", &Tolerances::head_strength},
      {"nozzle_strength", "strength of the nozzle seat", &Tolerances::nozzle_strength},
  };
  return all;
}

std::vector<Complaint> complaints(const Tolerances& tolerances) {
  std::vector<Complaint> found;
  for (const NamedTolerance& tolerance : named_tolerances()) {
    for (Complaint complaint : complaints(tolerances.*tolerance.spread)) {
      complaint.key = "tolerance." + std::string(tolerance.key);
      found.push_back(complaint);
    }
  }
  return found;
}

}  // namespace grainwright
