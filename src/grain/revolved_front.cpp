// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/revolved_front.hpp"

#include <algorithm>
#include <cstdio>
#include <numbers>

#include "front_sum.hpp"
#include "outline_exact.hpp"
#include "outline_sites.hpp"
#include "ring.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

// What the cells leave uncovered, of the whole, is in the shadow of an inhibited corner.
constexpr double tiling = 1e-9;
// Directions this near are the same.
constexpr double along_edge = 1e-9;

std::string place(Point p) {
  char text[80];
  std::snprintf(text, sizeof text, "(%.6g mm from the head end, radius %.6g mm)", 1e3 * p.x,
                1e3 * p.y);
  return text;
}

struct ProfileEdge {
  Point from, to;
  bool bare;
  [[nodiscard]] Point along() const { return (1 / norm(to - from)) * (to - from); }
};

std::vector<ProfileEdge> edges_of(const HalfSection& profile) {
  std::vector<ProfileEdge> edges;
  for (std::size_t i = 0; i < profile.size(); ++i) {
    const ProfileCorner& a = profile[i];
    const ProfileCorner& b = profile[(i + 1) % profile.size()];
    if (a.z == b.z && a.r == b.r) continue;
    bool on_axis = a.r == 0 && b.r == 0;
    edges.push_back({{a.z, a.r}, {b.z, b.r}, a.bare && !on_axis});
  }
  return edges;
}

double twice_area(const std::vector<ProfileEdge>& edges) {
  double sum = 0;
  for (const ProfileEdge& edge : edges) sum += wedge(edge.from, edge.to);
  return sum;
}

double signed_volume(const std::vector<ProfileEdge>& edges) {
  double sum = 0;
  for (const ProfileEdge& edge : edges) {
    sum += pi / 3 * wedge(edge.from, edge.to) * (edge.from.y + edge.to.y);
  }
  return sum;
}

// So that the propellant lies at the right of each edge.
void turn_clockwise(std::vector<ProfileEdge>& edges) {
  if (twice_area(edges) <= 0) return;
  std::reverse(edges.begin(), edges.end());
  for (ProfileEdge& edge : edges) std::swap(edge.from, edge.to);
}

void check(const std::vector<ProfileEdge>& edges, double scale) {
  std::vector<Complaint> found;
  auto complain = [&](const std::string& given, const std::string& allowed) {
    found.push_back({"profile", given, allowed, {}});
  };
  Ring ring;
  bool bare = false;
  for (const ProfileEdge& edge : edges) {
    ring.push_back({edge.from, 0});
    bare = bare || edge.bare;
    if (!(edge.from.y >= 0) || !std::isfinite(edge.from.x) || !std::isfinite(edge.from.y)) {
      complain("a corner at " + place(edge.from), "radii of 0 or more");
    }
  }
  if (!bare) complain("no bare edge", "at least one face that burns");
  if (found.empty() && std::abs(twice_area(edges)) <= 1e-12 * scale * scale) {
    complain("a profile without area", "a body of propellant");
  }
  if (found.empty()) {
    for (Point p : exact::meetings({ring})) {
      complain("edges that cross or touch at " + place(p), "a profile that keeps clear of itself");
      break;
    }
  }
  if (!found.empty()) throw InputError(found);
}

std::vector<front::Site> sites_of(const std::vector<ProfileEdge>& edges) {
  std::vector<front::Site> sites;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const ProfileEdge& before = edges[(i + edges.size() - 1) % edges.size()];
    const ProfileEdge& edge = edges[i];
    double turn = angle_between(before.along(), edge.along());
    Point normal = right_of(before.along());
    // A bare face that ends at an inhibited one fans out until it runs along it.
    if (before.bare && edge.bare) {
      front::add_fan(edge.from, normal, turn, sites);
    } else if (before.bare) {
      front::add_fan(edge.from, normal, turn + pi / 2, sites);
    } else if (edge.bare) {
      front::add_fan(edge.from, -1 * before.along(), turn + pi / 2, sites);
    }
    sites.push_back(
        front::line_site(edge.from, edge.to, edge.bare ? front::Shape::line : front::Shape::dam));
  }
  return sites;
}

// A corner between inhibited edges that the propellant goes round, and the edges' directions from
// it.
struct Obstacle {
  Point at, one, other;
};
std::vector<Obstacle> obstacles(const std::vector<ProfileEdge>& edges) {
  std::vector<Obstacle> corners;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const ProfileEdge& before = edges[(i + edges.size() - 1) % edges.size()];
    const ProfileEdge& edge = edges[i];
    if (before.bare || edge.bare || angle_between(before.along(), edge.along()) <= 0) continue;
    corners.push_back({edge.from, -1 * before.along(), edge.along()});
  }
  return corners;
}

// Behind a corner that the front passes lies a shadow, unless an edge runs on along its normal.
bool casts_shadow(const Obstacle& corner, Point normal) {
  return norm(corner.one - normal) > along_edge && norm(corner.other - normal) > along_edge;
}

[[noreturn]] void refuse(const std::string& corner) {
  throw InputError("inhibited", "a burning front that would have to pass round " + corner,
                   "faces such that every point burns straight from a bare face; leave a face that "
                   "meets this corner bare");
}

}  // namespace

double volume_of(const HalfSection& profile) {
  return std::abs(signed_volume(edges_of(profile)));
}

RevolvedFront::RevolvedFront(const HalfSection& profile) {
  std::vector<ProfileEdge> edges = edges_of(profile);
  double scale = 0;
  for (const ProfileEdge& edge : edges) scale = std::max(scale, norm(edge.from - edges[0].from));
  check(edges, scale);
  turn_clockwise(edges);
  sum_ = std::make_shared<FrontSum>(FrontSum::Figure{sites_of(edges), 0, scale, {0, {0, 2 * pi}}});
  // What lies in a shadow is burned round the corner, or only later from elsewhere: either way not
  // along a straight normal.
  for (const Obstacle& corner : obstacles(edges)) {
    for (Point normal : sum_->passing(corner.at)) {
      if (casts_shadow(corner, normal)) refuse("an inhibited corner at " + place(corner.at));
    }
  }
  double volume = std::abs(signed_volume(edges));
  if (std::abs(sum_->left(0) - volume) > tiling * volume) refuse("an inhibited corner");
}

double RevolvedFront::burning_area(double web) const {
  return sum_->length(web);
}
std::optional<Quadratic> RevolvedFront::formula(double web) const {
  return sum_->formula(web);
}
double RevolvedFront::volume(double web) const {
  return sum_->left(web);
}
double RevolvedFront::burnout() const {
  return sum_->burnout();
}
std::span<const double> RevolvedFront::events() const {
  return sum_->events();
}
std::vector<Stroke> RevolvedFront::strokes(double web) const {
  return sum_->strokes(web);
}

}  // namespace grainwright
