// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/tolerances.hpp"

#include <cmath>
#include <string>

#include "grainwright/firing/steady.hpp"

namespace grainwright {

Spread Tolerances::trade_sigma(double share) {
  return {Distribution::normal, share, true, SpreadOrigin::trade};
}

Spread Tolerances::trade_limits(double limit) {
  Spread spread = Spread::within(Distribution::uniform, limit, false);
  spread.origin = SpreadOrigin::trade;
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
      {"core_offset", "core offset", &Tolerances::core_offset},
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
    const Spread& spread = tolerances.*tolerance.spread;
    const bool heat = tolerance.spread == &Tolerances::temperature;
    const double widest = heat ? 100 : 1;  // K, m: wider than anybody works
    if (!spread.share && spread.sigma > widest) {
      found.push_back({"tolerance." + std::string(tolerance.key), std::to_string(spread.sigma),
                       heat ? "a spread of at most 100 degC" : "a spread of at most 1 m"});
    }
  }
  return found;
}

Tolerances with_measurements(Tolerances tolerances, const Motor& motor) {
  if (!motor.propellant.measured) return tolerances;
  const Measured& measured = *motor.propellant.measured;
  const auto take = [](Spread& spread, double sigma) {
    if (spread.origin != SpreadOrigin::trade || sigma <= 0) return;
    spread = {Distribution::normal, sigma, true, SpreadOrigin::measured};
  };
  double away = 0;
  if (measured.at > 0 && measured.n_error > 0) {
    const SteadyChamber chamber(motor.propellant, motor.nozzle, motor.day);
    const double peak = steady_summary(Burnback(motor.grain), chamber).peak_pressure;
    away = measured.n_error * std::log(peak / measured.at);
  }
  // Variance of ln a + (n - n0) ln(P / at).
  take(tolerances.burn_rate, std::sqrt(measured.rate_error * measured.rate_error + away * away +
                                       2 * measured.correlation * measured.rate_error * away));
  take(tolerances.characteristic_velocity, measured.characteristic_velocity_error);
  take(tolerances.nozzle_efficiency, measured.efficiency_error);
  return tolerances;
}

}  // namespace grainwright
