// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where an envelope meets the wall: over either kind of site, a quartic.
#include <boost/math/tools/toms748_solve.hpp>
#include <numbers>

#include "front_envelope.hpp"

namespace grainwright::front {
namespace {

template <std::size_t N>
double polynomial(const std::array<double, N>& c, double x) {
  double sum = 0;
  for (std::size_t i = N; i-- > 0;) sum = sum * x + c[i];
  return sum;
}

double root_between(auto f, double a, double fa, double b, double fb) {
  auto close = [](double lo, double hi) { return hi - lo < 1e-16; };
  std::uintmax_t most = 100;
  auto [lo, hi] = boost::math::tools::toms748_solve(f, a, b, fa, fb, close, most);
  return 0.5 * (lo + hi);
}

// Roots in (-1, 1), rising: between the roots of the derivative a polynomial is monotone.
template <std::size_t N>
std::vector<double> roots_within_one(const std::array<double, N>& c) {
  std::vector<double> ends = {-1};
  if constexpr (N > 2) {
    std::array<double, N - 1> slope = {};
    for (std::size_t i = 1; i < N; ++i) slope[i - 1] = static_cast<double>(i) * c[i];
    for (double s : roots_within_one(slope)) ends.push_back(s);
  }
  ends.push_back(1);
  std::vector<double> roots;
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    double fa = polynomial(c, ends[i]);
    double fb = polynomial(c, ends[i + 1]);
    if ((fa < 0) == (fb < 0)) continue;
    roots.push_back(
        root_between([&](double x) { return polynomial(c, x); }, ends[i], fa, ends[i + 1], fb));
  }
  return roots;
}

using Quartic = std::array<double, 5>;
using Square = std::array<double, 3>;

Quartic product(const Square& a, const Square& b) {
  Quartic c = {};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) c[i + j] += a[i] * b[j];
  }
  return c;
}

// |p|^2 - R^2 along the ceiling, of x in [-1, 1] over the range.
Quartic past_wall_over_line(const Site& site, const Cover& cover, double radius) {
  const auto& c = cover.ceiling.c;
  double middle = 0.5 * (cover.range.from + cover.range.to);
  double half = 0.5 * (cover.range.to - cover.range.from);
  Square up = {c[0] + middle * (c[1] + middle * c[2]) + dot(site.origin, site.normal),
               half * (c[1] + 2 * middle * c[2]), half * half * c[2]};
  Square across = {middle + dot(site.origin, site.along), half, 0};
  Quartic sum = product(up, up);
  Quartic more = product(across, across);
  for (std::size_t i = 0; i < 5; ++i) sum[i] += more[i];
  sum[0] -= radius * radius;
  return sum;
}

// The same over a round site, of the tangent of half the angle from the range's middle, times a
// positive factor: |p|^2 - R^2 = (|c|^2 - R^2) + 2 r c.e + r^2, times (1/r)^2.
Quartic past_wall_over_round(const Site& site, const Cover& cover, double radius) {
  const auto& c = cover.ceiling.c;
  Point e = unit(0.5 * (cover.range.from + cover.range.to));
  Point side = {-e.y, e.x};
  auto squared = [&](double a, Point v) {
    return Square{a + dot(v, e), 2 * dot(v, side), a - dot(v, e)};
  };
  Square w = squared(c[0], {c[1], c[2]});
  Square one = {1, 0, 1};
  double off = norm(site.origin);
  Quartic sum = product(one, one);
  Quartic ww = product(w, w);
  Quartic gw = product(squared(0, site.origin), w);
  for (std::size_t i = 0; i < 5; ++i) {
    sum[i] += (off - radius) * (off + radius) * ww[i] + 2 * gw[i];
  }
  return sum;
}

// Walls side by side are one: no event parts them.
void add(const Cover& cover, std::vector<Cover>& out) {
  bool same =
      !out.empty() && cover.ceiling.roof == Roof::wall && out.back().ceiling.roof == Roof::wall;
  if (same) {
    out.back().range.to = cover.range.to;
  } else {
    out.push_back(cover);
  }
}

void cut(const Site& site, const Cover& cover, double radius, std::vector<Cover>& out) {
  double middle = 0.5 * (cover.range.from + cover.range.to);
  double half = 0.5 * (cover.range.to - cover.range.from);
  double stretch = site.straight() ? half : std::tan(0.5 * half);
  Quartic past = site.straight() ? past_wall_over_line(site, cover, radius)
                                 : past_wall_over_round(site, cover, radius);
  if (!site.straight()) {  // from the tangent's own range to [-1, 1]
    for (double k = 1; double& c : past) c *= k, k *= stretch;
  }
  std::vector<double> ends = {-1};
  for (double x : roots_within_one(past)) ends.push_back(x);
  ends.push_back(1);
  auto parameter = [&](double x) {
    return middle + (site.straight() ? half * x : 2 * std::atan(stretch * x));
  };
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    bool beyond = polynomial(past, 0.5 * (ends[i] + ends[i + 1])) > 0;
    double from = i == 0 ? cover.range.from : parameter(ends[i]);
    double to = i + 2 == ends.size() ? cover.range.to : parameter(ends[i + 1]);
    add({{from, to}, beyond ? Ceiling{Roof::wall, {}} : cover.ceiling}, out);
  }
}

}  // namespace

double wall_height(const Site& site, double wall_radius, double s) {
  if (site.straight()) {
    double across = s + dot(site.origin, site.along);
    double under_root = (wall_radius - across) * (wall_radius + across);
    return std::sqrt(std::max(0.0, under_root)) - dot(site.origin, site.normal);
  }
  double outward = dot(site.origin, unit(s));
  double off = norm(site.origin);
  double under_root = (wall_radius - off) * (wall_radius + off) + outward * outward;
  double r = site.sign * std::sqrt(std::max(0.0, under_root)) - outward;
  return site.sign * (r - site.radius);
}

std::vector<Cover> cut_at_wall(const Site& site, std::span<const Cover> covers,
                               double wall_radius) {
  std::vector<Cover> out;
  bool inward = site.sign < 0 && norm(site.origin) < wall_radius;
  for (const Cover& cover : covers) {
    if (cover.ceiling.roof == Roof::none) {
      add({cover.range, {inward ? Roof::centre : Roof::wall, {}}}, out);
    } else {
      cut(site, cover, wall_radius, out);
    }
  }
  return out;
}

}  // namespace grainwright::front
