// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/search/even.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "grainwright/error.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using checks::closed_form;
using std::numbers::pi;

namespace {

/// A cored segment with its outside inhibited, any unit of length.
struct Cylinder {
  double outer = 0;
  double core = 0;
  double length = 0;
  int bare_ends = 2;

  [[nodiscard]] double web() const { return (outer - core) / 2; }
  [[nodiscard]] double area(double x) const {
    const double c = core + 2 * x;
    return pi * c * (length - bare_ends * x) + bare_ends * pi / 4 * (outer * outer - c * c);
  }
};

void expect(const std::string& what, double expected, double got) {
  checks::expect(what, closed_form, expected, got, checks::relative(1e-12));
}

}  // namespace

TEST_CASE("Even length with both ends bare") {
  struct Row {
    double core;
    double length;
    double hump;
  };
  for (const Row& row : {Row{15, 82.5, 1.193421}, Row{20, 85, 1.122727}, Row{25, 87.5, 1.075},
                         Row{30, 90, 1.042857}}) {
    const std::string of = ", tube 50, core " + std::to_string(static_cast<int>(row.core)) + " mm";
    const EvenStack stack = even_stack(0.050, row.core * 1e-3, 1);
    expect("even length in mm" + of, row.length, stack.length * 1e3);
    checks::expect("hump, peak over start" + of, closed_form, row.hump, stack.hump,
                   checks::absolute(5e-7));
    const Cylinder segment{50, row.core, row.length};
    expect("area at burnout over area at lighting" + of, 1,
           segment.area(segment.web()) / segment.area(0));
    expect("peak of the parabola over start" + of, stack.hump,
           segment.area(segment.web() / 2) / segment.area(0));
  }
}

TEST_CASE("Even length with one end bare is half of that with two") {
  const EvenStack one = even_stack(0.050, 0.020, 1, 1);
  expect("even length in mm, one end bare, tube 50, core 20 mm", 42.5, one.length * 1e3);
  checks::expect("its hump", closed_form, 1.122727, one.hump, checks::absolute(5e-7));
  const Cylinder segment{50, 20, 42.5, 1};
  expect("its area at lighting in mm2", 1375 * pi, segment.area(0));
  expect("its area at web 7.5 mm", 1543.75 * pi, segment.area(7.5));
  expect("its area at burnout", 1375 * pi, segment.area(15));
}

TEST_CASE("Three segments of a 38.1 mm tube with a 9.525 mm core") {
  const EvenStack stack = even_stack(0.0381, 0.009525, 3);
  expect("even length in mm", 61.9125, stack.length * 1e3);
  expect("three of them in mm", 185.7375, stack.total_length * 1e3);
  checks::expect("hump in percent of the start", closed_form, 24.1, (stack.hump - 1) * 100,
                 checks::absolute(0.05));
  const EvenStack spaced = even_stack(0.0381, 0.009525, 3, 2, 0.002);
  expect("three with two spacers of 2 mm, in mm", 189.7375, spaced.total_length * 1e3);
  expect("length of one is the same", stack.length, spaced.length);
}

TEST_CASE("Three even segments of a 1.5 in grain need just under 7.5 in") {
  const double total = even_stack(1.5, 0.375, 3).total_length;
  checks::expect("three even segments, 1.5 in grain, 3/8 in core, in", checks::common_practice, 7.5,
                 total, checks::relative(0.05));
  CHECK(total < 7.5);
  expect("the same by the rule", 7.3125, total);
}

TEST_CASE("The even length is the one with the least peak over least area") {
  double best_length = 0;
  double best = std::numeric_limits<double>::infinity();
  for (int step = 1000; step <= 2600; ++step) {
    const Cylinder segment{50, 20, step * 0.05};
    double least = segment.area(0);
    double greatest = least;
    for (int i = 1; i <= 1000; ++i) {
      const double area = segment.area(segment.web() * i / 1000);
      least = std::min(least, area);
      greatest = std::max(greatest, area);
    }
    if (greatest / least < best) {
      best = greatest / least;
      best_length = segment.length;
    }
  }
  checks::expect("length with the flattest burn by a scan in steps of 0.05 mm", closed_form,
                 even_stack(0.050, 0.020, 1).length * 1e3, best_length, checks::absolute(1e-9));
  checks::expect("its peak over least area", closed_form, even_stack(0.050, 0.020, 1).hump, best,
                 checks::relative(1e-5));
}

TEST_CASE("Off the even length, and with both ends inhibited, start and end differ") {
  struct Row {
    double length;
    double start;
    double end;
  };
  for (const Row& row : {Row{60, 2250, 1500}, Row{70, 2450, 2000}, Row{110, 3250, 4000}}) {
    const Cylinder segment{50, 20, row.length};
    expect("area at lighting over pi, mm2", row.start, segment.area(0) / pi);
    expect("area at burnout over pi, mm2", row.end, segment.area(15) / pi);
    CHECK(row.length != even_stack(50, 20, 1).length);
  }
  for (double length : {10.0, 85.0, 500.0}) {
    const Cylinder segment{50, 20, length, 0};
    expect("both ends inhibited: end over start is tube over core", 2.5,
           segment.area(15) / segment.area(0));
  }
}

TEST_CASE("Properties of the even length") {
  CHECK(rc::check("ends are equal, the hump is the peak, lengths scale", [] {
    const double outer = *rc::gen::inRange(10, 200);
    const double core = outer * *rc::gen::inRange(0, 1000) / 1000.0;
    const int ends = *rc::gen::inRange(1, 3);
    const EvenStack stack = even_stack(outer, core, 1, ends);
    const Cylinder segment{outer, core, stack.length, ends};
    const double start = segment.area(0);
    RC_ASSERT(std::abs(segment.area(segment.web()) - start) <= 1e-12 * start);
    RC_ASSERT(std::abs(segment.area(segment.web() / 2) - stack.hump * start) <= 1e-12 * start);
    const EvenStack doubled = even_stack(2 * outer, 2 * core, 1, ends);
    RC_ASSERT(doubled.length == 2 * stack.length);
    RC_ASSERT(std::abs(doubled.hump - stack.hump) <= 1e-15);
  }));
}

TEST_CASE("A wide core burns flat, no core humps most") {
  checks::expect("hump as the core nears the tube", closed_form, 1, even_stack(1, 1 - 1e-9, 1).hump,
                 checks::relative(1e-15));
  expect("hump without a core", 1.75, even_stack(1, 0, 1).hump);
}

TEST_CASE("The even length refuses what is no tube") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  for (double bad : {0.0, -0.05, nan, infinite}) {
    CHECK_THROWS_AS(even_stack(bad, 0, 1), InputError);
  }
  for (double bad : {-0.001, 0.05, 0.06, nan, infinite}) {
    CHECK_THROWS_AS(even_stack(0.05, bad, 1), InputError);
  }
  for (double bad : {-0.001, nan, infinite}) {
    CHECK_THROWS_AS(even_stack(0.05, 0.02, 2, 2, bad), InputError);
  }
  for (int bad : {0, -1, -1000}) CHECK_THROWS_AS(even_stack(0.05, 0.02, bad), InputError);
  for (int bad : {-1, 0, 3}) CHECK_THROWS_AS(even_stack(0.05, 0.02, 1, bad), InputError);
  try {
    static_cast<void>(even_stack(0.05, 0.06, 0, 0, -1));
    FAIL("accepted");
  } catch (const InputError& error) {
    REQUIRE(error.complaints().size() == 4);
    CHECK(error.complaints()[0].text() ==
          "core: 60 mm: narrower than the segment's outer diameter of 50 mm");
    CHECK(error.complaints()[1].text() == "segments: 0: 1 or more");
  }
}
