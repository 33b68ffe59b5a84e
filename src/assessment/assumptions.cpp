// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <cmath>

#include "grainwright/firing/gaps.hpp"
#include "hazards.hpp"

namespace grainwright {
namespace {

/// One sigma of the logarithm of the peak of a motor whose cores do not stray, which the scatter
/// would have to burn back once more: what strays acts on the load P/r(P), and the pressure goes
/// with the load to the power 1/(1-n). Closed form.
double sigma_of_load(const PreparedMotor& motor, const Tolerances& tolerances) {
  double exponent = 0;
  for (const LawPiece& piece : motor.chamber().law().pieces()) {
    if (piece.from <= motor.steady().peak_pressure) exponent = piece.exponent;
  }
  const Motor& drawn = motor.motor();
  const Spread& throat = tolerances.throat;
  const double bore = throat.share ? 1 : drawn.nozzle.throat_diameter;
  const double warmth = tolerances.temperature.sigma * drawn.propellant.temperature_sensitivity;
  double squares = 0;
  for (double sigma : {tolerances.burn_rate.sigma, tolerances.density.sigma,
                       tolerances.characteristic_velocity.sigma, 2 * throat.sigma / bore, warmth}) {
    squares += sigma * sigma;
  }
  return std::sqrt(squares) / (1 - exponent);
}

double chance_over(const Case& c) {
  if (c.found.scatter && c.found.scatter->over_ceiling) return c.found.scatter->over_ceiling->value;
  const double sigma = pressure_sigma(c);
  const double room = std::log(c.question.limits.pressure / c.found.peak_pressure.value);
  if (sigma == 0) return room < 0 ? 1 : 0;
  return std::erfc(room / (sigma * std::sqrt(2.0))) / 2;
}

void judged_as_drawn(const Case& c, Verdict& verdict) {
  if (c.question.limits.confidence > 0 || std::isinf(c.question.limits.pressure)) return;
  // A ceiling that is passed as drawn is broken already.
  if (c.port_chokes() || c.found.peak_pressure.value > c.question.limits.pressure) return;
  const double chance = chance_over(c);
  if (chance < telling_chance) return;
  verdict.assumed.push_back(
      {"limits.confidence",
       fmt::format("it is built exactly as drawn: about {} of motors built like it would pass the "
                   "ceiling",
                   percent_words(chance)),
       chance, telling_chance});
}

void ceiling_is_trusted(const Case& c, Verdict& verdict) {
  if (c.question.shell || std::isinf(c.question.limits.pressure)) return;
  verdict.assumed.push_back({"casing.material",
                             fmt::format("pipe, closures and nozzle seat hold the ceiling of {}",
                                         c.absolute(c.question.limits.pressure)),
                             c.question.limits.pressure,
                             {},
                             Dimension::pressure});
}

void only_fits_as_drawn(const Case& c, Verdict& verdict) {
  if (!c.question.casing || c.question.length_tolerance <= 0) return;
  const Grain& grain = c.motor().grain;
  const double room = c.question.casing->grain_room;
  const double longest = grain.stack_length() + grain.segment_count() * c.question.length_tolerance;
  if (longest <= room * (1 + 1e-9)) return;
  verdict.assumed.push_back(
      {"shop.length_tolerance",
       fmt::format("no segment is cut longer than drawn: at the long end of their tolerance they "
                   "are {} too long for the room",
                   c.show(longest - room, Dimension::length)),
       longest, room, Dimension::length});
}

void gaps_are_free(const Case& c, Verdict& verdict) {
  for (const std::string& warning : gap_warnings(c.question.motor)) {
    verdict.assumed.push_back({"shop.spacer", warning});
  }
}

void source_assumes(const Case& c, Verdict& verdict) {
  for (const Assumption& assumption : c.question.assumed) {
    verdict.assumed.push_back({assumption.key, assumption.words});
  }
}

constexpr auto table = std::to_array<Hazard>({
    {"judged as drawn", judged_as_drawn},
    {"the typed ceiling is trusted", ceiling_is_trusted},
    {"it fits only as drawn", only_fits_as_drawn},
    {"gaps are narrow", gaps_are_free},
    {"the source took it for granted", source_assumes},
});

}  // namespace

double pressure_sigma(const Case& c) {
  const Tolerances tolerances = with_measurements(c.question.tolerances, c.motor());
  const auto odd = [](const Layer& layer) { return layer.segment.core != nullptr; };
  return std::ranges::any_of(c.motor().grain.layers, odd)
             ? sigma_of_load(c.question.motor, tolerances)
             : log_pressure_sigma(c.motor(), tolerances);
}

std::span<const Hazard> assumption_table() {
  return table;
}

}  // namespace grainwright
