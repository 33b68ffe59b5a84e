// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/spread.hpp"

#include <rapidcheck.h>
#include <catch2/catch.hpp>
#include <cmath>

#include "support/checks.hpp"

namespace gw = grainwright;
using gw::Distribution;
using gw::Spread;

namespace {

const Spread standard{Distribution::normal, 1, false};

Spread any_spread() {
  const auto distribution =
      *rc::gen::element(Distribution::normal, Distribution::uniform, Distribution::triangular);
  const int percent = *rc::gen::inRange(1, 30);
  return {distribution, percent / 100.0, *rc::gen::arbitrary<bool>()};
}

double any_part() {
  return *rc::gen::inRange(1, 1000) / 1000.0;
}

}  // namespace

TEST_CASE("The normal distribution's quantiles") {
  const std::pair<double, double> table[] = {
      {0.9, 1.2815515655446},    {0.95, 1.6448536269515},    {0.975, 1.9599639845401},
      {0.99, 2.3263478740408},   {0.999, 3.0902323061678},   {0.999999, 4.7534243088171},
      {1e-12, -7.0344838253011}, {1e-300, -37.0470962993612}};
  for (const auto& [part, quantile] : table) {
    checks::expect("normal quantile at " + std::to_string(part), checks::closed_form, quantile,
                   standard.departure(part), checks::relative(1e-12));
  }
  checks::expect("part of a normal distribution past 5 sigma", checks::closed_form,
                 2.866515718791933e-7, standard.part_below(-5), checks::relative(1e-12));
}

TEST_CASE("Limits and sigma of each distribution") {
  checks::expect("limit of a uniform distribution / sigma", checks::closed_form, std::sqrt(3.0),
                 Spread{Distribution::uniform, 1, false}.limit(), checks::relative(1e-14));
  checks::expect("limit of a triangular distribution / sigma", checks::closed_form, std::sqrt(6.0),
                 Spread{Distribution::triangular, 1, false}.limit(), checks::relative(1e-14));
  CHECK(Spread::within(Distribution::normal, 0.3, true).sigma == Approx(0.1));
  CHECK(Spread::within(Distribution::uniform, 0.3, true).limit() == Approx(0.3));
}

TEST_CASE("Sigma is the standard deviation of what is drawn") {
  for (auto distribution :
       {Distribution::normal, Distribution::uniform, Distribution::triangular}) {
    const Spread spread{distribution, 0.2, false};
    constexpr int points = 1 << 18;
    double square = 0;
    for (int i = 0; i < points; ++i) {
      const double x = spread.departure((i + 0.5) / points);
      square += x * x / points;
    }
    INFO(gw::name_of(distribution));
    CHECK(std::sqrt(square) == Approx(0.2).epsilon(1e-4));
  }
}

TEST_CASE("Quantile and part below undo each other, and the middle stays put") {
  CHECK(rc::check("departure", [] {
    const Spread spread = any_spread();
    const double u = any_part();
    RC_ASSERT(std::abs(spread.part_below(spread.departure(u)) - u) < 1e-12);
    RC_ASSERT(std::abs(spread.departure(0.5)) < 1e-15);
  }));
  CHECK(rc::check("factor", [] {
    Spread spread = any_spread();
    spread.share = true;
    const double u = any_part();
    RC_ASSERT(std::abs(spread.part_below_factor(spread.factor(u)) - u) < 1e-12);
    RC_ASSERT(std::abs(spread.part_above_factor(spread.factor(u)) - (1 - u)) < 1e-12);
    RC_ASSERT(spread.factor(u) > 0);
  }));
}

TEST_CASE("Without a width nothing strays") {
  const Spread none{Distribution::normal, 0};
  CHECK(none.factor(0.01) == 1);
  CHECK(none.part_above_factor(0.99) == 1);
  CHECK(none.part_above_factor(1.01) == 0);
  CHECK(none.part_below_factor(0.99) == 0);
  CHECK(none.part_below_factor(1.01) == 1);
}

TEST_CASE("Names of distributions are read back") {
  for (auto distribution :
       {Distribution::normal, Distribution::uniform, Distribution::triangular}) {
    CHECK(gw::distribution_named(gw::name_of(distribution)) == distribution);
  }
  CHECK_FALSE(gw::distribution_named("gaussian"));
}

TEST_CASE("A width below zero and limits of a whole share are refused") {
  CHECK(complaints(Spread{Distribution::normal, -0.1}).size() == 1);
  CHECK(complaints(Spread{Distribution::normal, std::nan("")}).size() == 1);
  CHECK(complaints(Spread::within(Distribution::uniform, 1.0, true)).size() == 1);
  CHECK(complaints(Spread::within(Distribution::uniform, 1.0, false)).empty());
}
