// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/least_squares.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <tuple>
#include <utility>

#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

using Data = std::vector<double>;

template <class Model>
gw::LeastSquares fitted(const Data& x, const Data& y, Data start, Data scale, Model model) {
  gw::LeastSquaresProblem problem;
  problem.residuals = [=](const Data& b) {
    Data left;
    for (std::size_t i = 0; i < x.size(); ++i) left.push_back(y[i] - model(b, x[i]));
    return left;
  };
  problem.start = start;
  for (std::size_t i = 0; i < start.size(); ++i) {
    problem.least.push_back(start[i] - 40 * scale[i]);
    problem.most.push_back(start[i] + 40 * scale[i]);
  }
  problem.scale = scale;
  problem.slope_step = 1e-4;
  return gw::least_squares(problem);
}

void expect(const std::string& what, const std::string& source, double expected, double got,
            double within) {
  checks::expect(what, source, expected, got, checks::relative(within));
}

double power_law(const Data& b, double x) {
  return b[0] * std::pow(x, b[1]);
}

}  // namespace

TEST_CASE("Certified nonlinear regressions are met, from both starts") {
  const std::string danwood = "NIST Statistical Reference Datasets, nonlinear regression, DanWood";
  for (const Data& start : {Data{1, 5}, Data{0.7, 4}}) {
    const gw::LeastSquares f =
        fitted({1.309, 1.471, 1.490, 1.565, 1.611, 1.680},
               {2.138, 3.421, 3.597, 4.340, 4.882, 5.660}, start, {0.1, 0.1}, power_law);
    expect("DanWood b1", danwood, 7.6886226176e-01, f.parameters[0], 1e-8);
    expect("DanWood b2", danwood, 3.8604055871e+00, f.parameters[1], 1e-8);
    expect("DanWood sd of b1", danwood, 1.8281973860e-02, std::sqrt(f.covariance[0][0]), 1e-6);
    expect("DanWood sd of b2", danwood, 5.1726610913e-02, std::sqrt(f.covariance[1][1]), 1e-6);
    expect("DanWood sum of squares", danwood, 4.3173084083e-03, f.sum_of_squares, 1e-9);
    expect("DanWood residual sd", danwood, 3.2853114039e-02, std::sqrt(f.variance), 1e-9);
  }
  const std::string misra = "NIST Statistical Reference Datasets, nonlinear regression, Misra1a";
  for (const Data& start : {Data{500, 1e-4}, Data{250, 5e-4}}) {
    const gw::LeastSquares f = fitted({77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8,
                                       477.3, 536.8, 593.1, 689.1, 760.0},
                                      {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82,
                                       50.76, 55.05, 61.01, 66.40, 75.47, 81.78},
                                      start, {10, 2e-5}, [](const Data& b, double x) {
                                        return b[0] * (1 - std::exp(-b[1] * x));
                                      });
    expect("Misra1a b1", misra, 2.3894212918e+02, f.parameters[0], 1e-7);
    expect("Misra1a b2", misra, 5.5015643181e-04, f.parameters[1], 1e-7);
    expect("Misra1a sd of b1", misra, 2.7070075241e+00, std::sqrt(f.covariance[0][0]), 1e-5);
    expect("Misra1a sd of b2", misra, 7.2668688436e-06, std::sqrt(f.covariance[1][1]), 1e-5);
    expect("Misra1a sum of squares", misra, 1.2455138894e-01, f.sum_of_squares, 1e-9);
  }
}

TEST_CASE("A burn law by log-log and by plain least squares, with its covariance") {
  const Data p = {1, 1.5, 2, 3, 4, 5, 7, 10};
  const Data r = {7.9, 8.6, 9.9, 10.9, 12.3, 12.8, 14.7, 16.1};
  Data ln_p, ln_r;
  for (std::size_t i = 0; i < p.size(); ++i) {
    ln_p.push_back(std::log(p[i]));
    ln_r.push_back(std::log(r[i]));
  }
  const gw::LeastSquares f = fitted(ln_p, ln_r, {2, 0.3}, {0.1, 0.1},
                                    [](const Data& b, double x) { return b[0] + b[1] * x; });
  expect("log-log law: n", checks::closed_form, 0.318133420, f.parameters[1], 1e-8);
  expect("log-log law: a", checks::closed_form, 7.789284704, std::exp(f.parameters[0]), 1e-9);
  expect("log-log law: var ln a", checks::closed_form, 1.81920047e-4, f.covariance[0][0], 1e-7);
  expect("log-log law: cov(ln a, n)", checks::closed_form, -1.11153779e-4, f.covariance[0][1],
         1e-7);
  expect("log-log law: var n", checks::closed_form, 9.41836304e-5, f.covariance[1][1], 1e-7);
  const double uncorrelated = std::exp(-f.covariance[0][1] / f.covariance[1][1]);
  expect("pressure of uncorrelated rate, MPa", checks::closed_form, 3.254964963, uncorrelated,
         1e-7);
  const gw::LeastSquares plain = fitted(p, r, {7, 0.3}, {0.1, 0.1}, power_law);
  expect("plain law: a", checks::closed_form, 7.790120341, plain.parameters[0], 1e-9);
  expect("plain law: n", checks::closed_form, 0.318181353, plain.parameters[1], 1e-8);

  expect("log-log law: residual sd", checks::closed_form, 0.020147141, std::sqrt(f.variance), 1e-7);
  const auto told_at = [&](double pressure) {
    const double x = std::log(pressure);
    return std::pair{
        std::exp(f.parameters[0] + f.parameters[1] * x),
        std::sqrt(f.covariance[0][0] + 2 * x * f.covariance[0][1] + x * x * f.covariance[1][1])};
  };
  const std::tuple<double, double, double> table[] = {
      {3.254964963, 11.338502258, 0.0071231}, {5, 12.997604, 0.008252}, {15, 18.435355, 0.016450}};
  for (const auto& [pressure, rate, error] : table) {
    const auto [told, sd] = told_at(pressure);
    const std::string at = " at " + std::to_string(pressure) + " MPa";
    expect("log-log law: rate" + at, checks::closed_form, rate, told, 5e-8);
    expect("log-log law: relative error" + at, checks::closed_form, error, sd, 1e-4);
  }
}

TEST_CASE("A burn law with rows that weigh more, and one through two points") {
  const Data p = {1, 1.5, 2, 3, 4, 5, 7, 10};
  const Data r = {7.9, 8.6, 9.9, 10.9, 12.3, 12.8, 14.7, 16.1};
  gw::LeastSquaresProblem problem;
  problem.residuals = [&](const Data& b) {
    Data left;
    for (std::size_t i = 0; i < p.size(); ++i) {
      const double off = std::log(r[i]) - b[0] - b[1] * std::log(p[i]);
      left.push_back((i < 4 ? 1 : std::sqrt(2.0)) * off);
    }
    return left;
  };
  problem.start = {2, 0.3};
  problem.least = {0, 0};
  problem.most = {4, 0.9};
  problem.scale = {0.1, 0.1};
  const gw::LeastSquares weighted = gw::least_squares(problem);
  expect("weighted log-log law: n", checks::closed_form, 0.318064535, weighted.parameters[1], 1e-8);
  expect("weighted log-log law: a", checks::closed_form, 7.796579916,
         std::exp(weighted.parameters[0]), 1e-9);
  const gw::LeastSquares two = fitted({2, 5}, {8, 12}, {7, 0.3}, {0.1, 0.1}, power_law);
  expect("law through two points: n", checks::closed_form, 0.442507049, two.parameters[1], 1e-8);
  expect("law through two points: a", checks::closed_form, 5.886838098, two.parameters[0], 1e-9);
}

TEST_CASE("What the rows do not tell has no end of variance, and a bound is said") {
  const gw::LeastSquares f =
      fitted({1, 2, 3}, {1, 2, 3}, {0.5, 0.2}, {0.1, 0.1},
             [](const Data& b, double x) { return (b[0] + b[1]) * x + 0.1 * std::sin(x); });
  CHECK(f.covariance[0][0] > 1e6 * f.variance);
  gw::LeastSquaresProblem problem;
  problem.residuals = [](const Data& b) { return Data{b[0] - 5, b[0] - 6}; };
  problem.start = {0};
  problem.least = {-1};
  problem.most = {1};
  problem.scale = {1};
  const gw::LeastSquares held = gw::least_squares(problem);
  CHECK(held.at_bound);
  CHECK(held.parameters[0] == 1);
}
