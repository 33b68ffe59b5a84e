// SPDX-License-Identifier: GPL-3.0-or-later
#include "off_centre.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace grainwright {
namespace {

using std::numbers::pi;

// Pieces of the tail, graded toward its ends, where the arc's slope is endless.
constexpr int tail_pieces = 12;
double graded(double t) {
  return t < 0.5 ? 4 * t * t * t : 1 - 4 * (1 - t) * (1 - t) * (1 - t);
}
// Gauss-Legendre nodes on [-1, 1], three of them.
const std::array<double, 3> gauss_nodes = {-std::sqrt(0.6), 0, std::sqrt(0.6)};

double safe_acos(double x) {
  return std::acos(std::clamp(x, -1.0, 1.0));
}

/// Core circle r and wall R with centres e apart, the circles crossing.
struct Circles {
  double wall = 0;
  double core = 0;
  double apart = 0;

  /// Of the core inside the wall.
  [[nodiscard]] double arc() const {
    return 2 * core *
           (pi - safe_acos((wall * wall - core * core - apart * apart) / (2 * apart * core)));
  }
  /// Inside the wall, outside the core.
  [[nodiscard]] double section() const {
    const double e = apart;
    const double kite =
        (-e + core + wall) * (e + core - wall) * (e - core + wall) * (e + core + wall);
    const double lens =
        core * core * safe_acos((e * e + core * core - wall * wall) / (2 * e * core)) +
        wall * wall * safe_acos((e * e + wall * wall - core * core) / (2 * e * wall)) -
        std::sqrt(std::max(0.0, kite)) / 2;
    return pi * wall * wall - lens;
  }
};

/// The quadratic through three points.
Quadratic through(const std::array<double, 3>& x, const std::array<double, 3>& y) {
  const double first = (y[1] - y[0]) / (x[1] - x[0]);
  const double second = ((y[2] - y[1]) / (x[2] - x[1]) - first) / (x[2] - x[0]);
  return {{y[0] - first * x[0] + second * x[0] * x[1], first - second * (x[0] + x[1]), second}};
}

}  // namespace

void add_off_centre(const Segment& segment, double offset, std::vector<Stretch>& stretches) {
  const double wall = segment.outer_diameter / 2;
  const double core = segment.core_diameter / 2;
  const int ends = segment.bare_ends();
  const double ends_meet =
      ends > 0 ? segment.length / ends : std::numeric_limits<double>::infinity();
  const double meets_wall = wall - offset - core;
  stretches.push_back({0, std::min(meets_wall, ends_meet), burning_area_of(segment)});
  const double burnout = std::min(wall + offset - core, ends_meet);
  if (burnout <= meets_wall) return;
  const auto area = [&](double web) {
    const Circles circles{wall, core + web, offset};
    return circles.arc() * (segment.length - ends * web) + ends * circles.section();
  };
  const double tail = burnout - meets_wall;
  for (int i = 0; i < tail_pieces; ++i) {
    const double from = meets_wall + tail * graded(static_cast<double>(i) / tail_pieces);
    const double to = meets_wall + tail * graded(static_cast<double>(i + 1) / tail_pieces);
    std::array<double, 3> webs{};
    std::array<double, 3> areas{};
    for (std::size_t k = 0; k < 3; ++k) {
      webs[k] = (from + to) / 2 + gauss_nodes[k] * (to - from) / 2;
      areas[k] = area(webs[k]);
    }
    Stretch piece{from, i + 1 == tail_pieces ? burnout : to, through(webs, areas)};
    // Where a steep end would carry the formula below zero, the mean area stands for it.
    if (!(area_range(piece).least > 0)) {
      piece.area = {{(5 * areas[0] + 8 * areas[1] + 5 * areas[2]) / 18, 0, 0}};
    }
    stretches.push_back(piece);
  }
}

}  // namespace grainwright
