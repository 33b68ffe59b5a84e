// SPDX-License-Identifier: GPL-3.0-or-later
//
// A ceiling that a part of all motors keeps.
#include <catch2/catch.hpp>
#include <cmath>

#include "grainwright/scatter/scatter.hpp"
#include "grainwright/search/search.hpp"
#include "grainwright/strength/change.hpp"
#include "shops.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

gw::Tolerances burn_rate_alone(double sigma) {
  gw::Tolerances tolerances;
  for (const auto& tolerance : gw::named_tolerances()) {
    tolerances.*tolerance.spread = {.sigma = 0};
  }
  tolerances.burn_rate = {gw::Distribution::normal, sigma, true};
  return tolerances;
}

gw::SearchTask task() {
  gw::SearchTask task = shops::small();
  task.limits.pressure = 4e6;
  task.limits.confidence = 0.99;
  return task;
}

}  // namespace

TEST_CASE("Where the burn rate alone strays, the ceiling falls by the closed form") {
  gw::SearchTask asked = task();
  asked.tolerances = burn_rate_alone(0.05);
  const double n = asked.propellant.law.pieces().front().exponent;
  REQUIRE(asked.propellant.law.pieces().size() == 1);
  const auto result = gw::search(asked);
  const double factor = std::exp(2.3263478740408 * 0.05 / (1 - n));
  checks::expect("factor on the ceiling that 99 % of motors keep, sigma of ln rate 0.05",
                 checks::closed_form, factor, result.pressure_factor, checks::relative(3e-3));
  REQUIRE_FALSE(result.designs.empty());
  gw::SearchTask lowered = asked;
  lowered.limits.confidence = 0;
  lowered.limits.pressure /= result.pressure_factor;
  const auto plain = gw::search(lowered);
  REQUIRE(plain.designs.size() == result.designs.size());
  for (std::size_t i = 0; i < plain.designs.size(); ++i) {
    CHECK(plain.designs[i].grain == result.designs[i].grain);
    CHECK(plain.designs[i].throat_diameter == result.designs[i].throat_diameter);
  }
  CHECK(result.proven == plain.proven);
}

TEST_CASE("The asked part of each design's motors keeps the ceiling") {
  const gw::SearchTask asked = task();
  const auto result = gw::search(asked);
  REQUIRE_FALSE(result.designs.empty());
  CHECK(result.pressure_factor > 1.1);
  for (const gw::Design& design : result.designs) {
    CHECK(design.pressure_at_confidence <= asked.limits.pressure);
    gw::ScatterTask scattered{.motor = gw::motor_of(asked, design),
                              .ceiling = asked.limits.pressure};
    const auto fired = gw::scatter(scattered, {.samples = 65536, .seed = 9});
    CHECK(fired.over_ceiling->value < 0.0105);
  }
}

TEST_CASE("A ceiling that no build keeps says what it would have to be") {
  gw::SearchTask asked = task();
  asked.limits.pressure = 0.2e6;
  const auto result = gw::search(asked);
  CHECK(result.designs.empty());
  for (const gw::Relief& relief : result.reliefs) {
    if (relief.key != "limits.pressure") continue;
    CHECK(relief.asked == 0.2e6);
    if (relief.enough) CHECK(relief.needed > relief.asked);
  }
}

TEST_CASE("Without a ceiling there is nothing to keep") {
  gw::SearchTask asked = task();
  asked.limits.pressure = std::numeric_limits<double>::infinity();
  const auto result = gw::search(asked);
  CHECK(result.pressure_factor == 1);
  REQUIRE_FALSE(result.designs.empty());
  CHECK(result.designs.front().pressure_at_confidence == 0);
}
