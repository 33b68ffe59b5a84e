// SPDX-License-Identifier: GPL-3.0-or-later
#include "outline_arcs.hpp"

#include <algorithm>
#include <numbers>

#include "outline_sites.hpp"

namespace grainwright {
namespace {

using front::Site;

// Of an edge's own length: meetings this near to a shared corner are the corner.
constexpr double at_corner = 1e-9;

std::vector<Point> meetings_with_circle(Point centre, double radius, const Site& other) {
  std::vector<Point> points;
  Point v = other.origin - centre;
  if (other.straight()) {
    auto roots = front::quadratic_roots(dot(v, v) - radius * radius, 2 * dot(v, other.along), 1);
    for (double s : roots) points.push_back(other.point(s, 0));
    return points;
  }
  double middle = 0.5 * (other.from + other.to);
  double power = dot(v, v) + (other.radius - radius) * (other.radius + radius);
  Point pull = 2 * other.radius * v;
  for (double s : front::sinusoid_roots(power, pull.x, pull.y, middle)) {
    points.push_back(other.point(s, 0));
  }
  return points;
}

bool is_shared_corner(Point p, const Site& a, const Site& b) {
  double near = at_corner * (norm(a.end - a.begin) + a.radius + norm(b.end - b.begin) + b.radius);
  return (a.end == b.begin && norm(p - a.end) <= near) ||
         (b.end == a.begin && norm(p - b.end) <= near);
}

void add_meetings(const Site& arc, const Site& other, std::vector<Point>& found) {
  if (norm(arc.bound - other.bound) > arc.reach + other.reach) return;
  for (Point p : meetings_with_circle(arc.origin, arc.radius, other)) {
    if (arc.under(p) && other.under(p) && !is_shared_corner(p, arc, other)) found.push_back(p);
  }
}

struct Disk {
  Point centre;
  double radius;
};
Disk disk_around(const Ring& ring) {
  Disk disk = {};
  std::vector<Site> sites;
  for (const Edge& edge : edges_of(ring)) front::add_edge(edge.from, edge.to, edge.turn, sites);
  for (const Site& site : sites) {
    disk.centre = disk.centre + (1 / static_cast<double>(sites.size())) * site.bound;
  }
  for (const Site& site : sites) {
    disk.radius = std::max(disk.radius, norm(site.bound - disk.centre) + site.reach);
  }
  return disk;
}

}  // namespace

bool holds_arcs(const Ring& ring) {
  return std::any_of(ring.begin(), ring.end(), [](const Corner& c) { return c.turn != 0; });
}

bool is_circle(const Ring& ring) {
  return ring.size() == 2 && ring[0].turn == ring[1].turn &&
         std::abs(std::abs(ring[0].turn) - std::numbers::pi) < 1e-12;
}

Ring straightened(const Ring& ring) {
  constexpr int chords = 64;
  Ring fine;
  for (const Edge& edge : edges_of(ring)) {
    fine.push_back({edge.from, 0});
    if (edge.turn == 0) continue;
    ArcOf arc = arc_of(edge.from, edge.to, edge.turn);
    double start = angle_of(edge.from - arc.centre);
    for (int i = 1; i < chords; ++i) {
      fine.push_back({arc.centre + arc.radius * unit(start + edge.turn * i / chords), 0});
    }
  }
  return fine;
}

Point farthest_point(const Edge& edge) {
  Point farthest = norm(edge.from) > norm(edge.to) ? edge.from : edge.to;
  if (edge.turn == 0) return farthest;
  std::vector<Site> sites;
  front::add_edge(edge.from, edge.to, edge.turn, sites);
  for (const Site& site : sites) {
    double out = norm(site.origin);
    if (out == 0) continue;
    Point p = ((out + site.radius) / out) * site.origin;
    if (site.under(p) && norm(p) > norm(farthest)) farthest = p;
  }
  return farthest;
}

std::vector<Point> crossings_of_arcs(const std::vector<Ring>& rings) {
  std::vector<Site> sites;
  for (const Ring& ring : rings) {
    for (const Edge& edge : edges_of(ring)) front::add_edge(edge.from, edge.to, edge.turn, sites);
  }
  std::vector<Point> found;
  for (std::size_t i = 0; i < sites.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      bool same_circle = sites[i].origin == sites[j].origin && sites[i].radius == sites[j].radius;
      if (same_circle || (sites[i].straight() && sites[j].straight())) continue;
      const Site& arc = sites[i].straight() ? sites[j] : sites[i];
      add_meetings(arc, &arc == &sites[i] ? sites[j] : sites[i], found);
    }
  }
  return found;
}

bool clear_of_each_other(const std::vector<Region>& voids) {
  std::vector<Disk> disks;
  for (const Region& region : voids) disks.push_back(disk_around(region.outer));
  for (std::size_t i = 0; i < disks.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      double apart = norm(disks[i].centre - disks[j].centre);
      if (apart <= disks[i].radius + disks[j].radius) return false;
    }
  }
  return true;
}

}  // namespace grainwright
