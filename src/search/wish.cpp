// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/search/wish.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace grainwright {
namespace {

// Area under straight lines through the points.
double mean_of(const std::vector<Profile::Point>& points) {
  double sum = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    sum += (points[i].fraction - points[i - 1].fraction) *
           (points[i].thrust + points[i - 1].thrust) / 2;
  }
  return sum;
}

void refuse_unless_usable(const std::vector<Profile::Point>& points) {
  const auto refuse = [](const std::string& given, const char* allowed) {
    throw InputError("profile", given, allowed);
  };
  if (points.size() < 2) {
    refuse(std::to_string(points.size()) + " points", "two points or more: [fraction, thrust]");
  }
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto [fraction, thrust] = points[i];
    if (!(std::isfinite(thrust) && thrust >= 0)) {
      refuse("thrust " + std::to_string(thrust), "relative thrusts of zero or more");
    }
    const double before = i == 0 ? 0 : points[i - 1].fraction;
    if (!(fraction >= before && fraction <= 1)) {
      refuse("fraction " + std::to_string(fraction),
             "fractions of burn time that rise from 0 to 1");
    }
  }
  if (points.front().fraction != 0 || points.back().fraction != 1) {
    refuse("fractions from " + std::to_string(points.front().fraction) + " to " +
               std::to_string(points.back().fraction),
           "a first fraction of 0 and a last one of 1");
  }
  if (!(mean_of(points) > 0)) refuse("no thrust at all", "at least one thrust above zero");
}

}  // namespace

Profile::Profile(std::vector<Point> points) : points_(std::move(points)) {}

Profile Profile::flat() {
  return Profile({{0, 1}, {1, 1}});
}

Profile Profile::front_loaded(double lead) {
  if (!(lead > 1 && lead <= 2)) {
    throw InputError("lead", std::to_string(lead), "above 1, up to 2: thrust at ignition / mean");
  }
  return Profile({{0, lead}, {1, 2 - lead}});
}

Profile Profile::through(std::vector<Point> points) {
  refuse_unless_usable(points);
  const double mean = mean_of(points);
  for (Point& point : points) point.thrust /= mean;
  return Profile(std::move(points));
}

double Profile::operator()(double fraction) const {
  const auto after =
      std::ranges::find_if(points_, [&](const Point& point) { return point.fraction >= fraction; });
  if (after == points_.begin()) return points_.front().thrust;
  if (after == points_.end()) return points_.back().thrust;
  const Point& before = *std::prev(after);
  const double share = (fraction - before.fraction) / (after->fraction - before.fraction);
  return before.thrust + share * (after->thrust - before.thrust);
}

double Profile::mean_square() const {
  double sum = 0;
  for (std::size_t i = 1; i < points_.size(); ++i) {
    const double a = points_[i - 1].thrust;
    const double b = points_[i].thrust;
    sum += (points_[i].fraction - points_[i - 1].fraction) * (a * a + a * b + b * b) / 3;
  }
  return sum;
}

}  // namespace grainwright
