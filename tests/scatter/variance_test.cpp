// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/variance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "support/checks.hpp"

namespace gw = grainwright;
using std::numbers::pi;

namespace {

double ishigami(std::span<const double> u, double a, double b) {
  const auto angle = [&](std::size_t i) { return pi * (2 * u[i] - 1); };
  const double x3 = angle(2);
  const double s1 = std::sin(angle(0));
  const double s2 = std::sin(angle(1));
  return s1 + a * s2 * s2 + b * x3 * x3 * x3 * x3 * s1;
}

gw::VarianceSums sums_of(const std::function<double(std::span<const double>)>& answer,
                         std::size_t dimensions, std::vector<gw::InputGroup> groups = {}) {
  if (groups.empty()) {
    for (std::size_t i = 0; i < dimensions; ++i) groups.push_back({i, 1});
  }
  const gw::SobolPoints points(2 * dimensions, 15);
  return gw::variance_sums(answer, groups, points, gw::Scramble(2 * dimensions, 1, 0));
}

}  // namespace

TEST_CASE("Ishigami's function") {
  const std::string source = "closed form of Ishigami & Homma (1990)";
  struct Known {
    double b;
    double variance;
    double first[3];
    double total[3];
  };
  const Known table[] = {
      {0.1, 13.8445879, {0.3139052, 0.4424111, 0}, {0.5575889, 0.4424111, 0.2436837}},
      {0.05, 8.9169424, {0.2185186, 0.6868946, 0}, {0.3131054, 0.6868946, 0.0945868}}};
  for (const Known& known : table) {
    const auto sums =
        sums_of([&](std::span<const double> u) { return ishigami(u, 7, known.b); }, 3);
    const std::string with = ", b = " + std::to_string(known.b);
    checks::expect("Ishigami mean" + with, source, 3.5, sums.mean, checks::relative(1e-4));
    checks::expect("Ishigami variance" + with, source, known.variance, sums.variance,
                   checks::relative(1e-3));
    for (std::size_t i = 0; i < 3; ++i) {
      const std::string input = " of input " + std::to_string(i + 1) + with;
      checks::expect("Ishigami first-order index" + input, source, known.first[i],
                     sums.first_order(i), checks::absolute(2e-3));
      checks::expect("Ishigami total index" + input, source, known.total[i], sums.total_order(i),
                     checks::absolute(2e-3));
    }
  }
}

TEST_CASE("Sobol's g-function") {
  const std::string source = "closed form of Saltelli & Sobol's g-function";
  const double a[] = {0, 1, 4.5, 9, 99, 99, 99, 99};
  const double first[] = {0.716192, 0.179048, 0.023676, 0.007162, 0.000072};
  const double total[] = {0.787144, 0.242198, 0.034317, 0.010460, 0.000105};
  const auto sums = sums_of(
      [&](std::span<const double> u) {
        double product = 1;
        for (std::size_t i = 0; i < 8; ++i) {
          product *= (std::abs(4 * u[i] - 2) + a[i]) / (1 + a[i]);
        }
        return product;
      },
      8);
  checks::expect("g-function variance", source, 0.4654244, sums.variance, checks::relative(2e-3));
  for (std::size_t i = 0; i < 5; ++i) {
    const std::string input = " of input " + std::to_string(i + 1);
    checks::expect("g-function first-order index" + input, source, first[i], sums.first_order(i),
                   checks::absolute(3e-3));
    checks::expect("g-function total index" + input, source, total[i], sums.total_order(i),
                   checks::absolute(3e-3));
  }
}

TEST_CASE("A linear answer: each input carries its own square") {
  const auto sums = sums_of([](std::span<const double> u) { return 3 * u[0] + 4 * u[1]; }, 2);
  checks::expect("variance of 3 u + 4 v", checks::closed_form, 25.0 / 12, sums.variance,
                 checks::relative(1e-4));
  for (const auto& [index, share] : {std::pair{0U, 0.36}, std::pair{1U, 0.64}}) {
    checks::expect("first-order index in 3 u + 4 v", checks::closed_form, share,
                   sums.first_order(index), checks::absolute(1e-3));
    checks::expect("total index in 3 u + 4 v", checks::closed_form, share, sums.total_order(index),
                   checks::absolute(1e-3));
  }
}

TEST_CASE("Inputs of several dimensions carry what these do together") {
  const auto product = [](std::span<const double> u) { return (u[0] - 0.5) * (u[1] - 0.5) + u[2]; };
  const auto sums = sums_of(product, 3, {{0, 2}, {2, 1}});
  const double own = 1.0 / 144;
  const double other = 1.0 / 12;
  CHECK(sums.first_order(0) == Approx(own / (own + other)).margin(2e-3));
  CHECK(sums.total_order(0) == Approx(own / (own + other)).margin(2e-3));
  CHECK(sums.total_order(1) == Approx(other / (own + other)).margin(2e-3));
}
