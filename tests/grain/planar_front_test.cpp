// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/planar_front.hpp"

#include <algorithm>
#include <boost/math/quadrature/tanh_sinh.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <utility>

#include "grainwright/grain/core_shapes.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using std::numbers::pi;

namespace {

constexpr double mm = 1e-3;
constexpr double mm2 = 1e-6;

using Table = std::vector<std::pair<double, double>>;

void check_perimeters(const std::string& what, const PlanarFront& front, const Table& table,
                      double tolerance) {
  for (auto [web, expected] : table) {
    checks::expect(what + " perimeter, mm, at web " + std::to_string(web) + " mm",
                   checks::closed_form, expected, front.perimeter(web * mm) / mm,
                   checks::absolute(tolerance));
  }
}

void check_sections(const std::string& what, const PlanarFront& front, const Table& table,
                    double tolerance) {
  for (auto [web, expected] : table) {
    checks::expect(what + " section, mm2, at web " + std::to_string(web) + " mm",
                   checks::closed_form, expected, front.section(web * mm) / mm2,
                   checks::absolute(tolerance));
  }
}

// Between events the perimeter is smooth but may begin or end like a root: tanh-sinh is made for it.
double integral_of_perimeter(const PlanarFront& front, double from = 0) {
  boost::math::quadrature::tanh_sinh<double> rule;
  double sum = 0;
  for (double to : front.events()) {
    if (to <= from) continue;
    sum += rule.integrate([&](double x) { return front.perimeter(x); }, from, to);
    from = to;
  }
  return sum;
}

Star classic_star(double half_angle) {
  return {5, half_angle, 0.75, 1 * mm, 15 * mm};
}

Outline polygon(const std::vector<Point>& corners) {
  Ring ring;
  for (Point p : corners) ring.push_back({p, 0});
  return {{{ring, {}}}, false};
}

}  // namespace

TEST_CASE("a star burns by the classical three phases") {
  double t = neutral_half_angle(5);
  PlanarFront front(star(classic_star(t)), 25 * mm);
  check_perimeters("neutral star", front,
                   {{0.001, 155.28819}, {3, 155.28819}, {6.955411, 155.28819}, {8, 157.34639},
                    {8.999, 161.30011}, {9.00001, 122.03468 - 0.0}, {10, 63.29690}, {11, 35.39662}},
                   2e-2);
  check_sections("neutral star", front, {{0, 1560.353834}}, 1e-6);
  CHECK(std::abs(front.burnout() / mm - 12.481287) < 1e-6);
  CHECK(std::abs(integral_of_perimeter(front) / front.section(0) - 1) < 1e-10);
}
