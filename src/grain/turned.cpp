// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cstdio>

#include "grainwright/grain/revolved_front.hpp"
#include "plane.hpp"

namespace grainwright {
namespace {

std::string millimetres(double length) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6g mm", 1e3 * length);
  return text;
}

// Radius of the core at z; where a step stands, of its head side.
double core_radius_at(const std::vector<Point>& core, double z) {
  for (std::size_t i = 0; i + 1 < core.size(); ++i) {
    Point a = core[i];
    Point b = core[i + 1];
    if (z > b.x || a.x == b.x) continue;
    return a.y + (b.y - a.y) * (z - a.x) / (b.x - a.x);
  }
  return core.back().y;
}

}  // namespace

Turned tapered(double length, double outer_radius, double head_radius, double nozzle_radius) {
  Turned body;
  body.length = length;
  body.outer_radius = outer_radius;
  body.core = {{0, head_radius}, {length, nozzle_radius}};
  return body;
}

Turned with_slot(Turned body, const RadialSlot& slot) {
  double end = slot.z + slot.width;
  if (!(slot.width > 0)) {
    throw InputError("slot width", millimetres(slot.width), "more than 0");
  }
  if (!(slot.z > 0 && end < body.length)) {
    throw InputError("slot", "from " + millimetres(slot.z) + " to " + millimetres(end),
                     "between the ends, 0 to " + millimetres(body.length));
  }
  for (Point p : body.core) {
    if (p.x < slot.z || p.x > end) continue;
    throw InputError("slot", "over a step of the core at " + millimetres(p.x),
                     "slots clear of steps and of each other");
  }
  double here = core_radius_at(body.core, slot.z);
  double there = core_radius_at(body.core, end);
  if (!(slot.reach > std::max(here, there) && slot.reach < body.outer_radius)) {
    throw InputError("slot reach", millimetres(slot.reach),
                     "more than the core's radius, less than the outer radius");
  }
  auto after =
      std::find_if(body.core.begin(), body.core.end(), [&](Point p) { return p.x > slot.z; });
  body.core.insert(after, {{slot.z, here}, {slot.z, slot.reach}, {end, slot.reach}, {end, there}});
  return body;
}

std::vector<Complaint> complaints(const Turned& body) {
  std::vector<Complaint> found;
  auto require = [&](bool fit, const char* key, double given, const std::string& allowed) {
    if (!fit) found.push_back({key, millimetres(given), allowed, {}});
  };
  require(body.length > 0, "length", body.length, "more than 0");
  require(body.outer_radius > 0, "outer radius", body.outer_radius, "more than 0");
  require(body.core.size() > 1, "core", 0, "at least two points");
  if (!found.empty()) return found;
  require(body.core.front().x == 0, "core", body.core.front().x,
          "a core that begins at the head end");
  require(body.core.back().x == body.length, "core", body.core.back().x,
          "a core that ends at the nozzle end, " + millimetres(body.length));
  for (std::size_t i = 0; i < body.core.size(); ++i) {
    Point p = body.core[i];
    require(p.y >= 0 && p.y < body.outer_radius, "core radius", p.y,
            "0 or more, less than the outer radius " + millimetres(body.outer_radius));
    require(i == 0 || p.x >= body.core[i - 1].x, "core", p.x, "points from head to nozzle end");
  }
  double inside = body.core[1].x;
  double outside = body.core[body.core.size() - 2].x;
  require(body.head_dish >= 0 && body.head_dish < inside, "head dish", body.head_dish,
          "0 or more, short of the core's next point at " + millimetres(inside));
  require(body.nozzle_dish >= 0 && body.length - body.nozzle_dish > outside &&
              body.head_dish + body.nozzle_dish < body.length,
          "nozzle dish", body.nozzle_dish,
          "0 or more, short of the core's last point before the end and of the head's dish");
  return found;
}

HalfSection profile_of(const Turned& body) {
  auto found = complaints(body);
  if (!found.empty()) throw InputError(found);
  auto bare = [&](Face face) { return !body.inhibited.contains(face); };
  double from = body.head_dish;
  double to = body.length - body.nozzle_dish;
  HalfSection profile = {{0, body.outer_radius, bare(Face::head)},
                         {from, core_radius_at(body.core, from), bare(Face::core)}};
  for (Point p : body.core) {
    if (p.x > from && p.x < to) profile.push_back({p.x, p.y, bare(Face::core)});
  }
  profile.push_back({to, core_radius_at(body.core, to), bare(Face::nozzle)});
  profile.push_back({body.length, body.outer_radius, bare(Face::outer)});
  return profile;
}

}  // namespace grainwright
