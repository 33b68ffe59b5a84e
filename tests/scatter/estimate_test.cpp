// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/estimate.hpp"

#include <rapidcheck.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <vector>

#include "support/checks.hpp"

namespace gw = grainwright;

TEST_CASE("Wilson's interval") {
  struct Row {
    double seen;
    double trials;
    double low;
    double high;
    double rounding;
  };
  const Row table[] = {
      {81, 263, 0.25529, 0.36621, 0.5e-5},   {15, 148, 0.06239, 0.16049, 0.5e-5},
      {0, 20, 0, 0.16113, 0.5e-5},           {1, 29, 0.00611, 0.17176, 0.5e-5},
      {0, 10, 0, 0.277533, 0.5e-6},          {3, 10, 0.107791, 0.603222, 0.5e-6},
      {10, 100, 0.055229, 0.174366, 0.5e-6}, {37, 100000, 2.684615e-4, 5.099232e-4, 0.5e-10}};
  for (const Row& row : table) {
    const auto interval = gw::wilson_interval(row.seen, row.trials);
    const std::string of = " of Wilson's 95 % interval, " + std::to_string(int(row.seen)) + " of " +
                           std::to_string(int(row.trials));
    checks::expect("lower end" + of, checks::closed_form, row.low, interval.low,
                   checks::absolute(row.rounding));
    checks::expect("upper end" + of, checks::closed_form, row.high, interval.high,
                   checks::absolute(row.rounding));
  }
  CHECK(gw::chance_of_the_unseen(20) == gw::wilson_interval(0, 20).high);
  CHECK(gw::wilson_interval(0, 1000).low == 0);
}

TEST_CASE("The error bar is Student's") {
  // Mean 2, standard deviation 1, three values; t(0.975, 2) = 4.302653.
  const std::vector<double> values = {1, 2, 3};
  const auto estimate = gw::estimate_of(values);
  CHECK(estimate.value == 2);
  checks::expect("95 % half width of the mean of 1, 2, 3", "Student's t, 2 degrees of freedom",
                 2.484138, estimate.error, checks::absolute(0.5e-6));
  CHECK(gw::estimate_of(std::vector{5.0}).error == 0);
}

TEST_CASE("Percentiles of values in any order are those of the sorted ones") {
  CHECK(rc::check("the same as of sorted values", [] {
    const auto values = *rc::gen::nonEmpty<std::vector<int>>();
    std::vector<double> mixed(values.begin(), values.end());
    std::vector<double> sorted = mixed;
    std::ranges::sort(sorted);
    const auto told = gw::told_percentiles(mixed);
    RC_ASSERT(told[0] == gw::percentile(sorted, 0.05));
    RC_ASSERT(told[1] == gw::percentile(sorted, 0.5));
    RC_ASSERT(told[2] == gw::percentile(sorted, 0.95));
  }));
}

TEST_CASE("A percentile lies between the values around it") {
  const std::vector<double> sorted = {10, 20, 30, 40};
  CHECK(gw::percentile(sorted, 0.5) == 25);
  CHECK(gw::percentile(sorted, 0) == 10);
  CHECK(gw::percentile(sorted, 1) == 40);
  CHECK(gw::percentile(sorted, 0.375) == 20);
}
