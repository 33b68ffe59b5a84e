// SPDX-License-Identifier: GPL-3.0-or-later
#include "front_site.hpp"

#include <algorithm>
#include <limits>
#include <numbers>

namespace grainwright::front {
namespace {

using std::numbers::pi;

constexpr double infinite = std::numeric_limits<double>::infinity();
// Lengths below this part of the figure are rounding.
constexpr double nothing = 1e-13;
// Past this many times the figure's size a foot can no longer be told from its neighbour.
constexpr double out_of_sight = 1e12;
// Lines that run side by side the same way meet too far off to matter.
constexpr double parallel = 1e-14;

Ceiling curve(double c0, double c1, double c2) {
  return {Roof::curve, {c0, c1, c2}};
}

// Signed distance from a line as a function of the abscissa over another: exactly 0 at a shared
// end.
struct Linear {
  double at_zero, slope;
};
Linear distance_along(const Site& site, const Site& line) {
  double slope = dot(line.normal, site.along);
  if (site.end == line.begin) return {-slope * site.to, slope};
  if (site.begin == line.end) return {0, slope};
  return {dot(line.normal, site.origin - line.origin), slope};
}

Ceiling line_over_line(const Site& site, const Site& line) {
  Point apart = site.normal - line.normal;
  double opening = 0.5 * dot(apart, apart);  // 1 - cos, without cancellation
  bool neighbours = site.end == line.begin || site.begin == line.end;
  if (opening < (neighbours ? 0x1p-100 : parallel)) return {};
  auto [at_zero, slope] = distance_along(site, line);
  return curve(at_zero / opening, slope / opening, 0);
}

Ceiling dam_over_line(const Site& site, const Site& dam) {
  double closing = -dot(site.normal, dam.normal);
  if (closing < nothing) return {};
  auto [at_zero, slope] = distance_along(site, dam);
  return curve(at_zero / closing, slope / closing, 0);
}

Ceiling round_over_line(const Site& site, const Site& round, double scale) {
  Point to_centre = round.origin - site.origin;
  double height = dot(to_centre, site.normal);
  double abscissa = dot(to_centre, site.along);
  double lead = height + round.sign * round.radius;
  if (std::abs(lead) < nothing * scale || (round.sign > 0 && lead < 0)) return {};
  double power = abscissa * abscissa + (height - round.radius) * (height + round.radius);
  return curve(0.5 * power / lead, -abscissa / lead, 0.5 / lead);
}

Ceiling line_over_round(const Site& site, const Site& line, double scale) {
  double distance = dot(line.normal, site.origin - line.origin);
  if (line.shape == Shape::dam) {
    if (distance < nothing * scale) return {};
    return curve(0, -line.normal.x / distance, -line.normal.y / distance);
  }
  double lead = distance + site.sign * site.radius;
  if (std::abs(lead) < nothing * scale) return {};
  return curve(site.sign / lead, -line.normal.x / lead, -line.normal.y / lead);
}

Ceiling round_over_round(const Site& site, const Site& round, double scale) {
  Point apart = site.origin - round.origin;
  double same = site.sign * round.sign;
  double excess = round.radius - same * site.radius;
  double distance = norm(apart);
  double power = (distance - excess) * (distance + excess);
  if (std::abs(power) < nothing * scale * scale) return {};
  double k = 2 / power;
  return curve(k * excess * same, -k * apart.x, -k * apart.y);
}

// Where the foot may change from the other site to what lies beyond its ends; rising, with the end
// of the site's own range.
Few<double, 5> breaks_of(const Site& site, const Site& other, const Ceiling& ceiling,
                         double scale) {
  Few<double, 5> breaks;
  auto add = [&](double s) {
    if (s > site.from && s < site.to) breaks.sort_in(s);
  };
  breaks.add(site.to);
  if (!site.straight() && !other.straight()) {
    const auto& c = ceiling.c;
    for (double s : sinusoid_roots(c[0], c[1], c[2], 0.5 * (site.from + site.to))) add(s);
  }
  if (other.corner()) return breaks;
  if (other.shape == Shape::dam) {
    add(site.parameter(other.begin));
    add(site.parameter(other.end));
    return breaks;
  }
  Ceiling mirror = bisector(other, site, scale);
  if (mirror.roof == Roof::none) return breaks;
  for (double end : {other.from, other.to}) {
    double h = curve_height(other, mirror, end);
    if (std::isfinite(h)) add(site.parameter(other.point(end, h)));
  }
  return breaks;
}

bool touches(const Site& site, const Site& other, const Ceiling& ceiling, double s, double scale) {
  double h = curve_height(site, ceiling, s);
  if (!(h >= -nothing * scale) || h > out_of_sight * scale) return false;
  if (other.corner()) return true;
  if (!other.straight() && other.radius + other.sign * h < 0) return false;
  return other.under(site.point(s, h));
}

}  // namespace

Point Site::point(double s, double h) const {
  if (straight()) return origin + s * along + h * normal;
  return origin + (radius + sign * h) * unit(s);
}

double Site::parameter(Point p) const {
  if (straight()) return dot(p - origin, along);
  return 0.5 * (from + to) + angle_between(along, p - origin);
}

bool Site::under(Point p) const {
  double s = parameter(p);
  double slack = nothing * (straight() ? to : 1);
  return s >= from - slack && s <= to + slack;
}

double Site::ahead(Point centre, double disk) const {
  if (straight()) return dot(normal, centre - origin) + disk;
  Point v = centre - origin;
  double length = norm(v);
  if (sign < 0) return infinite;
  double off = std::abs(angle_between(along, v)) - 0.5 * (to - from);
  return (off <= 0 ? length : length * std::cos(std::min(off, pi))) + disk - radius;
}

double Site::gap(Point centre, double disk) const {
  if (!straight()) return std::max(0.0, std::abs(norm(centre - origin) - radius) - disk);
  double s = std::clamp(dot(centre - origin, along), 0.0, to);
  return std::max(0.0, norm(centre - origin - s * along) - disk);
}

Site line_site(Point from, Point to, Shape shape) {
  Site site;
  site.shape = shape;
  site.origin = site.begin = from;
  site.end = to;
  site.to = norm(to - from);
  site.along = (1 / site.to) * (to - from);
  site.normal = right_of(site.along);
  site.bound = 0.5 * (from + to);
  site.reach = 0.5 * site.to;
  return site;
}

Site round_site(Point centre, double radius, double sign, double from, double to) {
  Site site;
  site.shape = Shape::round;
  site.origin = centre;
  site.radius = radius;
  site.sign = sign;
  site.from = from;
  site.to = to;
  site.along = unit(0.5 * (from + to));
  site.begin = site.point(sign > 0 ? from : to, 0);
  site.end = site.point(sign > 0 ? to : from, 0);
  site.bound = 0.5 * (site.begin + site.end);
  site.reach = radius * std::max(1 - std::cos(0.5 * (to - from)), std::sin(0.5 * (to - from)));
  return site;
}

double curve_height(const Site& site, const Ceiling& ceiling, double s) {
  const auto& c = ceiling.c;
  if (site.straight()) return c[0] + s * (c[1] + s * c[2]);
  double w = c[0] + c[1] * std::cos(s) + c[2] * std::sin(s);
  return w > 0 ? site.sign * (1 / w - site.radius) : infinite;
}

Ceiling bisector(const Site& site, const Site& other, double scale) {
  if (site.straight()) {
    if (other.shape == Shape::line) return line_over_line(site, other);
    if (other.shape == Shape::dam) return dam_over_line(site, other);
    return round_over_line(site, other, scale);
  }
  return other.straight() ? line_over_round(site, other, scale)
                          : round_over_round(site, other, scale);
}

Few<Range, 5> touching(const Site& site, const Site& other, const Ceiling& ceiling, double scale) {
  Few<Range, 5> ranges;
  double from = site.from;
  for (double to : breaks_of(site, other, ceiling, scale)) {
    if (touches(site, other, ceiling, 0.5 * (from + to), scale)) ranges.add({from, to});
    from = to;
  }
  return ranges;
}

Roots sinusoid_roots(double a, double b, double c, double middle) {
  double size = std::hypot(b, c);
  Roots roots;
  if (std::abs(a) > size || size == 0) return roots;
  double peak = std::atan2(c, b);
  double half = std::acos(-a / size);
  for (double s : {peak - half, peak + half}) {
    roots.sort_in(s - 2 * pi * std::round((s - middle) / (2 * pi)));
  }
  return roots;
}

Roots quadratic_roots(double a, double b, double c) {
  double under_root = b * b - 4 * a * c;
  Roots roots;
  if (under_root < 0) return roots;
  double q = -0.5 * (b + std::copysign(std::sqrt(under_root), b));
  if (c != 0) roots.sort_in(q / c);
  if (q != 0) roots.sort_in(a / q);
  return roots;
}

}  // namespace grainwright::front
