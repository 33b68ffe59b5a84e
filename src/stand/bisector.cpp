// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>

#include "grainwright/stand/figures.hpp"

namespace grainwright {
namespace {

// The level's tangent is taken over this part of the time scale, and ends so far before the corner.
constexpr double level_part = 0.2;
constexpr double level_ends = 0.05;
constexpr double tail_from = 0.75;  // of the level
constexpr double tail_to = 0.25;
constexpr int rounds = 12;  // level and corner depend on each other

struct Line {
  double at = 0;  // u
  double value = 0;
  double slope = 0;
  [[nodiscard]] double operator()(double u) const { return value + slope * (u - at); }
};

/// The curve with both axes scaled.
struct Scaled {
  const std::vector<double>& time;
  const std::vector<double>& thrust;
  double time_scale;
  double thrust_scale;

  [[nodiscard]] std::size_t size() const { return time.size(); }
  [[nodiscard]] double u(std::size_t i) const { return time[i] / time_scale; }
  [[nodiscard]] double y(std::size_t i) const { return thrust[i] / thrust_scale; }
  [[nodiscard]] std::size_t first_from(double at) const {
    return static_cast<std::size_t>(std::ranges::lower_bound(time, at * time_scale) - time.begin());
  }
  /// Where the curve last falls through a level, by a straight line.
  [[nodiscard]] double last_at(double level) const {
    std::size_t i = size() - 1;
    while (i > 0 && y(i - 1) < level) --i;
    if (i == 0 || y(i) >= level) return u(i);
    const double share = (level - y(i - 1)) / (y(i) - y(i - 1));
    return u(i - 1) + share * (u(i) - u(i - 1));
  }
};

std::optional<Line> line_between(const Scaled& curve, double from, double to) {
  const std::size_t first = curve.first_from(from);
  const std::size_t last = curve.first_from(to);
  if (last < first + 2) return std::nullopt;
  const auto count = static_cast<double>(last - first);
  Line line;
  for (std::size_t i = first; i < last; ++i) {
    line.at += curve.u(i) / count;
    line.value += curve.y(i) / count;
  }
  double uu = 0, uy = 0;
  for (std::size_t i = first; i < last; ++i) {
    uu += (curve.u(i) - line.at) * (curve.u(i) - line.at);
    uy += (curve.u(i) - line.at) * (curve.y(i) - line.value);
  }
  line.slope = uy / uu;
  return line;
}

/// Tangent to the tail-off under a level; through its two ends where too few rows lie between.
Line tail_of(const Scaled& curve, double level) {
  const double from = curve.last_at(tail_from * level);
  const double to = curve.last_at(tail_to * level);
  if (const auto line = line_between(curve, from, to)) return *line;
  return {from, tail_from * level, (tail_to - tail_from) * level / std::max(to - from, 1e-12)};
}

/// The bisector's crossing of the curve, walked to from the corner.
double crossing(const Scaled& curve, double corner_u, double corner_y, double du, double dy) {
  // Signed distance from the bisector: one sign before the crossing, the other after it.
  const auto side = [&](double u, double y) { return du * (y - corner_y) - dy * (u - corner_u); };
  const auto row_side = [&](std::size_t i) { return side(curve.u(i), curve.y(i)); };
  std::size_t best = 0;
  double nearest = std::numeric_limits<double>::infinity();
  double u = corner_u;
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const double a = row_side(i - 1);
    const double b = row_side(i);
    if ((a < 0) == (b < 0)) continue;
    const double share = a / (a - b);
    const double at = curve.u(i - 1) + share * (curve.u(i) - curve.u(i - 1));
    if (std::abs(at - corner_u) < nearest) {
      nearest = std::abs(at - corner_u);
      best = i;
      u = at;
    }
  }
  return best == 0 ? corner_u : u;
}

}  // namespace

std::optional<double> aft_tangent_bisector(const std::vector<double>& time,
                                           const std::vector<double>& thrust, double time_scale,
                                           double thrust_scale) {
  const Scaled curve{time, thrust, time_scale, thrust_scale};
  if (curve.size() < 4) return std::nullopt;
  // From the end: what the curve holds shortly before it last leaves a tenth.
  double corner = curve.last_at(0.1);
  double level = 0;
  Line before;
  Line tail;
  for (int round = 0; round < rounds; ++round) {
    const auto fitted = line_between(curve, corner - level_ends - level_part, corner - level_ends);
    if (!fitted) return std::nullopt;
    before = *fitted;
    level = std::clamp(before(corner), 0.15, 1.2);
    if (curve.y(curve.size() - 1) > tail_to * level) return std::nullopt;
    tail = tail_of(curve, level);
    if (!(tail.slope < before.slope)) return std::nullopt;
    const double met = tail.at + (before(tail.at) - tail.value) / (tail.slope - before.slope);
    if (std::abs(met - corner) < 1e-12) break;
    corner = met;
  }
  const double back = std::hypot(1, before.slope);
  const double on = std::hypot(1, tail.slope);
  const double du = -1 / back + 1 / on;
  const double dy = -before.slope / back + tail.slope / on;
  return time_scale * crossing(curve, corner, before(corner), du, dy);
}

}  // namespace grainwright
