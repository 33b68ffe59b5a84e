// SPDX-License-Identifier: GPL-3.0-or-later
#include "../../src/firing/dense.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "support/checks.hpp"

using namespace grainwright;
using State = std::array<double, 1>;

namespace {

// A chamber of constant volume that fills: tau dP/dt = Peq^(1-n) P^n - P, in MPa and filling times.
constexpr double exponent = 0.4;
constexpr double held = 5;
constexpr double start = 2;

void filling(const State& pressure, State& slope, double /*time*/) {
  slope[0] = std::pow(held, 1 - exponent) * std::pow(pressure[0], exponent) - pressure[0];
}

double exact(double time) {
  const double there = std::pow(held, 1 - exponent);
  const double from = std::pow(start, 1 - exponent);
  return std::pow(there + (from - there) * std::exp(-(1 - exponent) * time), 1 / (1 - exponent));
}

}  // namespace

TEST_CASE("a step half as long leaves a thirty-second of the error") {
  // So loose a tolerance takes each leg in one step.
  const auto error = [](int steps) {
    const double end = 4;
    State pressure = {start};
    for (int i = 0; i < steps; ++i) {
      follow({end * i / steps, end * (i + 1) / steps, end, 1, end}, pressure, filling,
             [](double, const State&) {});
    }
    return pressure[0] / exact(end) - 1;
  };
  for (int steps : {8, 16, 32}) {
    checks::expect("order of the time stepping, " + std::to_string(steps) + " to " +
                       std::to_string(2 * steps) + " steps of a filling chamber",
                   "Dormand & Prince (1980): fifth order; filling in closed form", 5,
                   std::log2(error(steps) / error(2 * steps)), checks::absolute(0.05));
  }
}

TEST_CASE("points between the steps lie on the curve, and the last one is the end") {
  State pressure = {start};
  double last = 0;
  follow({0, 2, 0.1, 1e-9, 0.01}, pressure, filling, [&](double time, const State& there) {
    CHECK(time - last <= 0.01 * (1 + 1e-12));
    CHECK(there[0] == Approx(exact(time)).epsilon(1e-7));  // one order less
    last = time;
  });
  CHECK(last == 2);
  CHECK(pressure[0] == Approx(exact(2)).epsilon(1e-8));
}
