// SPDX-License-Identifier: GPL-3.0-or-later
//
// What varies from one motor to the next although all are drawn alike, and by how much.
#pragma once

#include <string_view>
#include <vector>

#include "grainwright/motor/motor.hpp"
#include "grainwright/scatter/spread.hpp"

namespace grainwright {

/// The defaults are common practice, no source: what careful amateurs report of their batches and
/// tools. A builder's own figures are worth more than any of them.
struct Tolerances {
  Spread burn_rate = trade_sigma(0.05);
  Spread density = trade_sigma(0.01);
  Spread characteristic_velocity = trade_sigma(0.02);
  Spread nozzle_efficiency = trade_sigma(0.02);
  Spread throat = trade_limits(0.05e-3);  ///< of the diameter, m
  Spread core = trade_limits(0.1e-3);     ///< of the diameter, m; one rod makes all its cores
  /// Of the core's axis from the segment's, m, of plain round cores. None by trade: it raises no
  /// pressure, but bares the wall sooner and draws the tail out.
  Spread core_offset = {Distribution::normal, 0, false, SpreadOrigin::trade};
  Spread length = trade_limits(0.4e-3);  ///< of each segment by itself, m
  Spread temperature = trade_limits(3);  ///< of the grain, K
  Spread pipe_strength = trade_sigma(0.08);
  Spread head_strength = trade_sigma(0.15);
  Spread nozzle_strength = trade_sigma(0.15);

  bool operator==(const Tolerances&) const = default;

 private:
  [[nodiscard]] static Spread trade_sigma(double share);
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

/// With what a stand has measured of the motor's propellant in place of the trade's guesses: how
/// well the rate is known at the motor's own peak pressure, and c* where it was fitted. What the
/// job gives stays.
[[nodiscard]] Tolerances with_measurements(Tolerances tolerances, const Motor& motor);

}  // namespace grainwright
