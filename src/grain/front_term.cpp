// SPDX-License-Identifier: GPL-3.0-or-later
#include "front_term.hpp"

#include <algorithm>
#include <numbers>

namespace grainwright::front {
namespace {

using std::numbers::pi;

constexpr double rounding = 1e-14;  // by which a conic's coefficients may miss a special shape
constexpr double same = 1e-14;      // of the figure's size: terms this near are one
// A parabola's vertex, in figure's sizes, and its curvature, in their inverse.
constexpr double farthest = 10;
constexpr double flattest = 1e-3;
constexpr double sharpest = 1e4;

double root(double square) {
  return std::sqrt(std::max(0.0, square));
}
// Angles are taken from two roots that vanish where the angle is 0 and where it is half a turn, for
// an arc cosine would lose half its digits there.
//
// In a triangle, between its sides a and b.
double angle_between(double a, double b, double opposite) {
  return 2 * std::atan2(root((opposite - a + b) * (opposite + a - b)),
                        root((a + b - opposite) * (a + b + opposite)));
}
// Of half an arc with this chord's distance from the centre.
double half_arc(double radius, double distance) {
  return std::atan2(root((radius - distance) * (radius + distance)), distance);
}
// Between half an arc and its chord, over the square of its radius.
double segment(double angle) {
  return angle - std::sin(angle) * std::cos(angle);
}

// A term and the parameter of the ceiling's vertex, about which it opens.
struct Opening {
  Term term;
  double vertex;
};

std::optional<Opening> over_line(const Strip& strip, double scale) {
  const Site& site = strip.site;
  Term term;
  if (strip.ceiling.roof == Roof::wall) {
    term.kind = Term::Kind::wall_by_line;
    term.a = dot(site.origin, site.normal);
    term.b = strip.wall;
    return Opening{term, -dot(site.origin, site.along)};
  }
  const auto& c = strip.ceiling.c;
  if (c[2] == 0) return {};
  const double vertex = -0.5 * c[1] / c[2];
  term.kind = Term::Kind::parabola;
  term.a = c[0] + 0.5 * c[1] * vertex;
  term.b = c[2];
  const double curvature = std::abs(term.b) * scale;
  if (!(std::max(std::abs(vertex), std::abs(term.a)) < farthest * scale)) return {};
  if (!(curvature > flattest && curvature < sharpest)) return {};
  return Opening{term, vertex};
}

std::optional<Opening> over_round(const Strip& strip) {
  const Site& site = strip.site;
  Term term;
  term.radius = site.radius;
  term.sign = site.sign;
  if (strip.ceiling.roof == Roof::wall) {
    term.kind = Term::Kind::wall_by_arc;
    term.a = norm(site.origin);
    term.b = strip.wall;
    return Opening{term, angle_of(site.origin)};
  }
  const auto& c = strip.ceiling.c;
  const double swing = std::hypot(c[1], c[2]);
  if (std::abs(c[0]) <= rounding * swing) {
    term.kind = Term::Kind::chord;
  } else if (std::abs(c[0] - swing) <= rounding * swing) {
    term.kind = Term::Kind::focus;
  } else {
    return {};
  }
  term.a = 1 / swing;
  return Opening{term, std::atan2(c[2], c[1])};
}

}  // namespace

double Term::value(double web) const {
  const double r = radius + sign * web;
  switch (kind) {
    case Kind::chord:
      return r * half_arc(r, a);
    case Kind::focus:
      return 2 * r * std::atan(root(2 * r / a - 1));
    case Kind::wall_by_arc:
      return r * (pi - angle_between(r, a, b));
    case Kind::wall_by_line:
      return root((b - web - a) * (b + web + a));
    default:
      return root((web - a) / b);
  }
}

double Term::integral(double web) const {
  const double r = radius + sign * web;
  switch (kind) {
    case Kind::chord:
      return sign / 2 * r * r * segment(half_arc(r, a));
    case Kind::focus: {
      const double w = root(2 * r / a - 1);
      return sign * (r * r * std::atan(w) - a * a / 4 * w * (1 + w * w / 3));
    }
    case Kind::wall_by_arc:
      return sign / 2 *
             (r * r * segment(pi - angle_between(r, a, b)) -
              b * b * segment(angle_between(a, b, r)));
    case Kind::wall_by_line:
      return -b * b / 2 * segment(half_arc(b, web + a));
    default:
      return 2.0 / 3 * (web - a) * value(web);
  }
}

Term::Key Term::key(double scale) const {
  const auto step = [&](double size) { return std::llround(size / (same * scale)); };
  // A parabola's b is the inverse of a length.
  return {static_cast<std::int64_t>(kind), step(a),
          step(kind == Kind::parabola ? scale * scale * b : b), step(radius), std::llround(sign)};
}

std::optional<TermShare> term_of(const Strip& strip, double scale) {
  const Site& site = strip.site;
  if (strip.ceiling.roof != Roof::wall && strip.ceiling.roof != Roof::curve) return {};
  const auto opening = site.straight() ? over_line(strip, scale) : over_round(strip);
  if (!opening) return {};
  // The live part runs from the cut to the strip's higher end: toward the vertex or away from it.
  const double lives = strip.at_from < strip.at_to ? strip.range.to : strip.range.from;
  const double dies = strip.at_from < strip.at_to ? strip.range.from : strip.range.to;
  const double middle = 0.5 * (strip.range.from + strip.range.to);
  double ahead = middle - opening->vertex;
  if (!site.straight()) ahead = std::remainder(ahead, 2 * pi);
  const double end = std::abs(ahead + lives - middle);
  const double share = end < std::abs(ahead + dies - middle) ? 1 : -1;
  TermShare result{opening->term, share, {{-share * end, 0, 0}}};
  if (!site.straight()) {
    result.rest.c = {-share * end * site.radius, -share * end * site.sign, 0};
  }
  return result;
}

}  // namespace grainwright::front
