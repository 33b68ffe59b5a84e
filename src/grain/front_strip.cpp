// SPDX-License-Identifier: GPL-3.0-or-later
#include "front_strip.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <numbers>

namespace grainwright::front {
namespace {

using std::numbers::pi;
// Three nodes integrate polynomials to the fifth degree exactly: all there are here.
using ThreeNodes = boost::math::quadrature::gauss<double, 3>;

// A flatter ceiling is gone so fast that a quadratic of the web itself would lose digits.
constexpr double flattest = 1e-3;

// (E - sin E) / (1 - cos E)^(3/2) as an analytic function of y = 1 - cos E, which runs through
// ellipse, parabola (y = 0) and hyperbola (y < 0) without a seam.
double segment_function(double y) {
  if (std::abs(y) < 0.2) {
    double sum = 0;
    double term = 1;
    for (int k = 0; k < 18; ++k) {
      sum += term / (k + 1.5);
      term *= (k + 0.5) / (k + 1.0) * 0.5 * y;
    }
    return sum / std::numbers::sqrt2;
  }
  double root = std::sqrt(std::abs(y));
  double half = root / std::numbers::sqrt2;
  if (y < 0) {
    double f = 2 * std::asinh(half);
    return (std::sinh(f) - f) / (root * root * root);
  }
  double e = 2 * std::asin(std::min(1.0, half));
  return (e - std::sin(e)) / (root * root * root);
}

// Area between the chord of a circle and its shorter arc.
double circle_segment(Point a, Point b, double radius) {
  double angle = 2 * std::asin(std::min(1.0, norm(b - a) / (2 * radius)));
  return 0.5 * radius * radius * (angle - std::sin(angle));
}

Point mean_direction(Range part) {  // integral of the unit vector over the range
  return 2 * std::sin(0.5 * (part.to - part.from)) * unit(0.5 * (part.from + part.to));
}

}  // namespace

double Strip::height(double s) const {
  switch (ceiling.roof) {
    case Roof::curve:
      return curve_height(site, ceiling, s);
    case Roof::centre:
      return site.radius;
    default:
      return wall_height(site, wall, s);
  }
}

double Strip::cut_over_line(double web) const {
  if (ceiling.roof == Roof::wall) {
    double foot = -dot(site.origin, site.along);
    double up = web + dot(site.origin, site.normal);
    double half = std::sqrt(std::max(0.0, (wall - up) * (wall + up)));
    return at_from > at_to ? foot + half : foot - half;
  }
  // From the range's beginning, in the form of the quadratic's root that does not cancel.
  double curvature = ceiling.c[2];
  double slope = ceiling.c[1] + 2 * curvature * range.from;
  double rise = web - at_from;
  double root = std::sqrt(std::max(0.0, slope * slope + 4 * curvature * rise));
  double divisor = slope + std::copysign(root, at_to - at_from);
  return divisor == 0 ? range.from : range.from + 2 * rise / divisor;
}

double Strip::cut_over_round(double web) const {
  double r = site.radius + site.sign * web;
  double peak = 0;
  double cosine = 0;
  if (ceiling.roof == Roof::wall) {
    double off = norm(site.origin);
    peak = angle_of(site.origin);
    cosine = ((wall - off) * (wall + off) - r * r) / (2 * r * off);
  } else {
    peak = std::atan2(ceiling.c[2], ceiling.c[1]);
    cosine = (1 / r - ceiling.c[0]) / std::hypot(ceiling.c[1], ceiling.c[2]);
  }
  double half = std::acos(std::clamp(cosine, -1.0, 1.0));
  double middle = 0.5 * (range.from + range.to);
  double ahead = std::remainder(middle - peak, 2 * pi);
  return middle - ahead + std::copysign(half, ahead);
}

double Strip::cut(double web) const {
  double s = site.straight() ? cut_over_line(web) : cut_over_round(web);
  return std::clamp(s, range.from, range.to);
}

Range Strip::live(double web) const {
  if (web <= low()) return range;
  if (web >= high()) return {range.to, range.to};
  return at_from < at_to ? Range{cut(web), range.to} : Range{range.from, cut(web)};
}

double Strip::length(Range part, double web, const Weight& weight) const {
  double width = part.to - part.from;
  if (site.straight()) {
    return width * weight.at(site.point(0.5 * (part.from + part.to), web));
  }
  double r = site.radius + site.sign * web;
  return r * (weight.at(site.origin) * width + r * dot(weight.slope, mean_direction(part)));
}

Quadratic Strip::whole(const Weight& weight) const {
  double width = range.to - range.from;
  if (site.straight()) {
    return {{length(range, 0, weight), width * dot(weight.slope, site.normal), 0}};
  }
  double first = weight.at(site.origin) * width;
  double second = dot(weight.slope, mean_direction(range));
  double r = site.radius;
  return {{r * (first + r * second), site.sign * (first + 2 * r * second), second}};
}

std::optional<Quadratic> Strip::partial(const Weight& weight) const {
  if (!site.straight() || ceiling.roof != Roof::curve || ceiling.c[2] != 0) return {};
  double slope = (at_to - at_from) / (range.to - range.from);
  if (std::abs(slope) < flattest) return {};
  // The cut stands at range.from + (web - at_from) / slope, the other end stays.
  double cut_0 = range.from - at_from / slope;
  double cut_1 = 1 / slope;
  double stays = at_from < at_to ? range.to : range.from;
  double side = at_from < at_to ? 1 : -1;
  // side (stays - cut) * (weight at the middle of both, at height web)
  double middle = weight.at(site.point(0.5 * (stays + cut_0), 0));
  double drift = 0.5 * cut_1 * dot(weight.slope, site.along) + dot(weight.slope, site.normal);
  double width_0 = side * (stays - cut_0);
  double width_1 = -side * cut_1;
  return Quadratic{{width_0 * middle, width_0 * drift + width_1 * middle, width_1 * drift}};
}

double Strip::area_over_line(Range part, double web, const Weight& weight) const {
  double width = part.to - part.from;
  if (ceiling.roof == Roof::wall) {
    double ha = height(part.from);
    double hb = height(part.to);
    Point a = site.point(part.from, ha);
    Point b = site.point(part.to, hb);
    return width * (0.5 * (ha + hb) - web) + circle_segment(a, b, wall);
  }
  auto column = [&](double x) {
    double s = part.from + 0.5 * width * (x + 1);
    double h = height(s);
    return (h - web) * weight.at(site.point(s, 0.5 * (h + web)));
  };
  return 0.5 * width * ThreeNodes::integrate(column);
}

// Weighted area of the sector from the centre to the ceiling between two of its points, q = p -
// centre.
double Strip::focal_area(Point a, Point b, const Weight& weight) const {
  double triangle = 0.5 * wedge(a, b);
  if (ceiling.roof == Roof::wall) return triangle + circle_segment(a, b, wall);
  double w0 = ceiling.c[0];
  Point axis = {ceiling.c[1], ceiling.c[2]};
  if (weight.slope == Point{}) {
    double q = std::max(0.0, norm(a) * norm(b) - dot(a, b));
    double y = (w0 * w0 - dot(axis, axis)) * q;
    return weight.at_origin * (triangle + 0.5 * w0 * q * std::sqrt(q) * segment_function(y));
  }
  // A parabola, or a line: the polynomial curve through a, b and the point over the chord's middle.
  Point middle = 0.5 * (a + b);
  if (w0 != 0) {
    double rest = (1 - dot(axis, middle)) / w0;
    middle = middle + 0.5 * (rest * rest - dot(middle, middle)) * axis;
  }
  Point control = 2 * middle - 0.5 * (a + b);
  auto slice = [&](double x) {
    double t = 0.5 * (x + 1);
    Point q = (1 - t) * (1 - t) * a + 2 * t * (1 - t) * control + t * t * b;
    Point speed = 2 * (1 - t) * (control - a) + 2 * t * (b - control);
    return 0.5 * wedge(q, speed) * weight.at(site.origin + (2.0 / 3) * q);
  };
  return 0.5 * ThreeNodes::integrate(slice);
}

double Strip::area_over_round(Range part, double web, const Weight& weight) const {
  auto disk = [&](double r) {
    return r * r *
           (0.5 * weight.at(site.origin) * (part.to - part.from) +
            r / 3 * dot(weight.slope, mean_direction(part)));
  };
  double inner = disk(site.radius + site.sign * web);
  if (ceiling.roof == Roof::centre) return inner;
  Point a = site.point(part.from, height(part.from)) - site.origin;
  Point b = site.point(part.to, height(part.to)) - site.origin;
  return site.sign * (focal_area(a, b, weight) - inner);
}

double Strip::area(Range part, double web, const Weight& weight) const {
  if (part.to <= part.from) return 0;
  return site.straight() ? area_over_line(part, web, weight) : area_over_round(part, web, weight);
}

void add_strips(const Site& site, const Cover& cover, double wall, std::vector<Strip>& strips) {
  Roots turns;
  const auto& c = cover.ceiling.c;
  double from = cover.range.from;
  double to = cover.range.to;
  double middle = 0.5 * (from + to);
  if (cover.ceiling.roof == Roof::wall) {
    if (site.straight()) {
      turns.add(-dot(site.origin, site.along));
    } else {
      turns = sinusoid_roots(0, site.origin.y, -site.origin.x, middle);
    }
  } else if (cover.ceiling.roof == Roof::curve) {
    if (!site.straight()) {
      turns = sinusoid_roots(0, c[2], -c[1], middle);
    } else if (c[2] != 0) {
      turns.add(-0.5 * c[1] / c[2]);
    }
  }
  Few<double, 3> ends;
  for (double s : turns) {
    if (s > from && s < to) ends.add(s);
  }
  ends.add(to);
  for (double end : ends) {
    Strip strip{site, cover.ceiling, {from, end}, 0, 0, wall};
    strip.at_from = std::max(0.0, strip.height(from));
    strip.at_to = std::max(0.0, strip.height(end));
    strips.push_back(strip);
    from = end;
  }
}

}  // namespace grainwright::front
