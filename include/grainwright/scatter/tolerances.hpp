// SPDX-License-Identifier: GPL-3.0-or-later
//
// What varies from one motor to the next although all are drawn alike, and by how much.
#pragma once

#include <string_view>
#include <vector>

#include "grainwright/scatter/spread.hpp"

namespace grainwright {

/// The defaults are common practice, no source: what careful amateurs report of their batches and
/// tools. A builder's own figures are worth more than any of them.
struct Tolerances {
  Spread burn_rate = {Distribution::normal, 0.05, true, true};
  Spread density = {Distribution::normal, 0.01, true, true};
  Spread characteristic_velocity = {Distribution::normal, 0.02, true, true};
  Spread nozzle_efficiency = {Distribution::normal, 0.02, true, true};
  Spread throat = trade_limits(0.05e-3);  ///< of the diameter, m
  Spread core = trade_limits(0.1e-3);     ///< of the diameter, m; one rod makes all its cores
  Spread length = trade_limits(0.4e-3);   ///< of each segment by itself, m
  Spread temperature = trade_limits(3);   ///< of the grain, K
  Spread pipe_strength = {Distribution::normal, 0.08, true, true};
  Spread head_strength = {Distribution::normal, 0.15, true, true};
  Spread nozzle_strength = {Distribution::normal, 0.15, true, true};

  bool operator==(const Tolerances&) const = default;

 private:
  [[nodiscard]] static Spread trade_limits(double limit);
};

/// One of them, by the name of its key.
struct NamedTolerance {
  std::string_view key;   ///< "burn_rate"
  std::string_view name;  ///< "burn rate"
  Spread Tolerances::*spread;
};
[[nodiscard]] const std::vector<NamedTolerance>& named_tolerances();

[[nodiscard]] std::vector<Complaint> complaints(const Tolerances& tolerances);

}  // namespace grainwright
