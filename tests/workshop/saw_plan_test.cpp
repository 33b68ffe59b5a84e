// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/workshop/saw_plan.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <string>

#include "grainwright/error.hpp"
#include "support/checks.hpp"

using namespace grainwright;

namespace {

constexpr double inch = 0.0254;

std::vector<double> scaled(std::vector<double> lengths, double unit) {
  for (double& length : lengths) length *= unit;
  return lengths;
}

// Every piece cut once, longest first in each tube, each tube within the stock, left-over as said.
bool sound(const SawPlan& plan, const std::vector<double>& pieces, double stock, double kerf) {
  std::vector<int> cut(pieces.size(), 0);
  double left_over = 0;
  for (const auto& tube : plan.tubes) {
    double used = (static_cast<double>(tube.size()) - 1) * kerf;
    for (std::size_t i : tube) {
      ++cut[i];
      used += pieces[i];
    }
    const bool sorted = std::ranges::is_sorted(
        tube, [&](std::size_t a, std::size_t b) { return pieces[a] > pieces[b]; });
    if (tube.empty() || !sorted || used > stock + 1e-9) return false;
    left_over += stock - used;
  }
  return std::ranges::all_of(cut, [](int times) { return times == 1; }) &&
         std::abs(left_over - plan.left_over) < 1e-8;
}

std::size_t tubes_of(const std::vector<double>& pieces, double stock, double kerf) {
  const SawPlan plan = saw_plan(pieces, stock, kerf);
  CHECK(sound(plan, pieces, stock, kerf));
  CHECK(plan.proven);
  return plan.tubes.size();
}

// The fewest tubes by walking every subset of the pieces: for each, the fewest tubes and then the
// least used of the last one. Shares nothing with the method under test.
std::size_t fewest_by_subsets(const std::vector<int>& pieces, int stock, int kerf) {
  const std::size_t all = (std::size_t{1} << pieces.size()) - 1;
  std::vector<std::pair<int, int>> best(all + 1, {1000, 0});
  best[0] = {0, stock + kerf};
  for (std::size_t set = 0; set < all; ++set) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const std::size_t bit = std::size_t{1} << i;
      if ((set & bit) != 0) continue;
      auto [tubes, used] = best[set];
      used += pieces[i] + kerf;
      if (used > stock + kerf) {
        ++tubes;
        used = pieces[i] + kerf;
      }
      best[set | bit] = std::min(best[set | bit], {tubes, used});
    }
  }
  return static_cast<std::size_t>(best[all].first);
}

void expect_tubes(const std::string& what, double expected, const std::vector<double>& pieces,
                  double stock, double kerf) {
  checks::expect("fewest tubes: " + what, checks::closed_form, expected,
                 static_cast<double>(tubes_of(pieces, stock, kerf)), checks::absolute(0));
}

}  // namespace

TEST_CASE("A kerf can cost a whole tube") {
  const auto pieces = scaled({150, 150, 100, 100, 100, 75, 75, 75, 75}, 1e-3);
  expect_tubes("nine from 300 mm, no kerf", 3, pieces, 0.3, 0);
  expect_tubes("nine from 300 mm, kerf 2 mm", 4, pieces, 0.3, 0.002);
}

TEST_CASE("Longest-first loses a tube where exact search does not") {
  expect_tubes("eight from 1000 mm", 3, scaled({600, 400, 400, 350, 350, 300, 300, 300}, 1e-3), 1,
               0);
  const auto pieces = scaled({13, 12.25, 11.5, 11.5, 11, 11, 9.25, 7.5, 7.5, 7.25, 4.5}, inch);
  expect_tubes("eleven from 36 in, kerf 1/8 in", 3, pieces, 36 * inch, inch / 8);
  const SawPlan plan = saw_plan(pieces, 36 * inch, inch / 8);
  checks::expect("left over of those three tubes, in", checks::closed_form, 0.25 + 0.125 + 0.375,
                 plan.left_over / inch, checks::relative(1e-6));
}

TEST_CASE("Segments of three lengths share two tubes") {
  const auto pieces =
      scaled({7.5, 7.5, 7.5, 7.5, 7.5, 6.5, 6.5, 6.5, 2.4375, 2.4375, 2.4375}, inch);
  expect_tubes("five 7.5, three 6.5, three 2.4375 from 36 in, kerf 1/16 in", 2, pieces, 36 * inch,
               inch / 16);
}

TEST_CASE("The bound from total length is not always reached") {
  const std::vector<double> halves(5, 18 * inch);
  expect_tubes("five 18 in from 36 in, no kerf", 3, halves, 36 * inch, 0);
  for (double kerf : {1e-9, 1e-4, inch / 16, inch / 8}) {
    expect_tubes("five 18 in from 36 in, with a kerf", 5, halves, 36 * inch, kerf);
    const double bound = std::ceil(5 * (18 * inch + kerf) / (36 * inch + kerf));
    CHECK(bound == 3);
  }
}

TEST_CASE("Limits of a saw plan") {
  CHECK(tubes_of({}, 1, 0.001) == 0);
  CHECK(saw_plan({}, 1, 0.001).left_over == 0);
  CHECK(tubes_of({1}, 1, 0.5) == 1);
  CHECK(tubes_of({0.5, 0.5}, 1, 0) == 1);
  CHECK(tubes_of({0.5, 0.5}, 1, 1e-9) == 2);
  CHECK(tubes_of({0.1, 0.2, 0.7}, 1, 0) == 1);  // 0.1 + 0.2 + 0.7 is no exact sum of doubles
  CHECK(tubes_of(std::vector<double>(1000, 0.01), 1, 0) == 10);
}

TEST_CASE("As few tubes as a walk through every subset finds") {
  CHECK(rc::check("random pieces", [] {
    const auto pieces =
        *rc::gen::resize(9, rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 61)));
    const int kerf = *rc::gen::inRange(0, 6);
    RC_PRE(pieces.size() <= 11);
    const std::vector<double> lengths(pieces.begin(), pieces.end());
    const auto metres = scaled(lengths, 1e-3);
    const SawPlan plan = saw_plan(metres, 0.06, kerf * 1e-3);
    RC_ASSERT(plan.proven);
    RC_ASSERT(sound(plan, metres, 0.06, kerf * 1e-3));
    RC_ASSERT(plan.tubes.size() == fewest_by_subsets(pieces, 60, kerf));
  }));
  CHECK(rc::check("pieces that nearly fill tubes", [] {
    std::vector<int> pieces;
    for (int tube = *rc::gen::inRange(1, 4); tube > 0; --tube) {
      const int a = *rc::gen::inRange(10, 50);
      const int b = *rc::gen::inRange(10, 50);
      for (int piece : {a, b, 100 - a - b + *rc::gen::inRange(0, 2)}) {
        if (piece > 0) pieces.push_back(piece);
      }
    }
    const std::vector<double> lengths(pieces.begin(), pieces.end());
    const SawPlan plan = saw_plan(scaled(lengths, 1e-3), 0.1, 0);
    RC_ASSERT(plan.proven);
    RC_ASSERT(plan.tubes.size() == fewest_by_subsets(pieces, 100, 0));
  }));
}

TEST_CASE("Order of the pieces and scale change nothing") {
  CHECK(rc::check("shuffled and doubled", [] {
    const auto pieces = *rc::gen::container<std::vector<double>>(
        20, rc::gen::map(rc::gen::inRange(1, 577), [](int n) { return n / 16.0 * inch; }));
    std::vector<double> other = pieces;
    std::ranges::reverse(other);
    for (double& piece : other) piece *= 2;
    const SawPlan plan = saw_plan(pieces, 36 * inch, inch / 16);
    const SawPlan again = saw_plan(other, 72 * inch, inch / 8);
    RC_PRE(plan.proven && again.proven);
    RC_ASSERT(plan.tubes.size() == again.tubes.size());
    RC_ASSERT(sound(plan, pieces, 36 * inch, inch / 16));
  }));
}

TEST_CASE("Tubes that can be filled without rest are found") {
  // Thirty pieces sawn from ten whole tubes, with nothing left over: ten is the fewest.
  std::mt19937 random(7);
  const auto part = [&] { return static_cast<int>(100 + random() % 300); };
  for (int trial = 0; trial < 50; ++trial) {
    std::vector<double> pieces;
    for (int tube = 0; tube < 10; ++tube) {
      const int a = part();
      const int b = part();
      for (int piece : {a, b, 1000 - a - b}) pieces.push_back(piece * 1e-3);
    }
    const SawPlan plan = saw_plan(pieces, 1, 0);
    CHECK(sound(plan, pieces, 1, 0));
    CHECK(plan.proven);
    CHECK(plan.tubes.size() == 10);
  }
}

TEST_CASE("Thirty pieces are always proven, more may not be and say so") {
  std::mt19937 random(11);
  const auto pieces = [&](int count, unsigned from, unsigned to) {
    std::vector<double> lengths;
    for (int i = 0; i < count; ++i) lengths.push_back((from + random() % (to - from)) * 1e-6);
    return lengths;
  };
  for (unsigned from : {100'000U, 200'000U, 250'000U}) {
    for (int trial = 0; trial < 10; ++trial) {
      const auto thirty = pieces(30, from, 450'000);
      const SawPlan plan = saw_plan(thirty, 1, 0.001);
      CHECK(sound(plan, thirty, 1, 0.001));
      CHECK(plan.proven);
    }
  }
  bool all_proven = true;
  for (int trial = 0; trial < 10 && all_proven; ++trial) {
    const auto sixty = pieces(60, 200'000, 350'000);
    const SawPlan plan = saw_plan(sixty, 1, 0);
    CHECK(sound(plan, sixty, 1, 0));
    all_proven = plan.proven;
  }
  CHECK_FALSE(all_proven);
}

TEST_CASE("A saw plan refuses what cannot be sawn") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  for (double piece : {0.0, -0.1, nan, infinite, 1e-10, 1e30, 1.000001}) {
    CHECK_THROWS_AS(saw_plan({0.5, piece}, 1, 0.001), InputError);
  }
  for (double stock : {0.0, -1.0, nan, infinite}) {
    CHECK_THROWS_AS(saw_plan({0.5}, stock, 0.001), InputError);
  }
  for (double kerf : {-0.001, nan, infinite}) {
    CHECK_THROWS_AS(saw_plan({0.5}, 1, kerf), InputError);
  }
  CHECK_THROWS_AS(saw_plan(std::vector<double>(1001, 0.1), 1, 0), InputError);
  try {
    static_cast<void>(saw_plan({0.5, 2, 0}, 1, 0.001));
    FAIL("accepted");
  } catch (const InputError& error) {
    REQUIRE(error.complaints().size() == 2);
    CHECK(error.complaints()[0].text() ==
          "piece 2: 2000 mm: no longer than the stock tube, 1000 mm");
    CHECK(error.complaints()[1].key == "piece 3");
  }
}
