// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cstdio>
#include <numbers>

#include "grainwright/grain/outline.hpp"
#include "outline_arcs.hpp"
#include "outline_exact.hpp"
#include "ring.hpp"

namespace grainwright {
namespace {

// A ring that encloses less than this part of the tube's section encloses nothing.
constexpr double least_area = 1e-12;
// Slots that go through the wall may end outside it; what ends farther out is a slip of the pen.
constexpr double farthest_out = 1000;
// Crossings named before "and more".
constexpr std::size_t most_named = 3;

std::string millimetres(Point p) {
  char text[64];
  std::snprintf(text, sizeof text, "(%.6g mm, %.6g mm)", 1e3 * p.x, 1e3 * p.y);
  return text;
}

std::string places(const std::vector<Point>& points) {
  std::string text;
  for (std::size_t i = 0; i < std::min(points.size(), most_named); ++i) {
    text += (i == 0 ? "" : ", ") + millimetres(points[i]);
  }
  return points.size() > most_named ? text + " and more" : text;
}

double distance_to_chord(Point p, Point a, Point b) {
  Point v = b - a;
  double k = dot(v, v) > 0 ? std::clamp(dot(p - a, v) / dot(v, v), 0.0, 1.0) : 0;
  return norm(p - a - k * v);
}

// Rings are tidied one by one, then as a whole.
class Tidying {
 public:
  Tidying(const Outline& outline, double wall)
      : wall_(wall), fine_(outline_grain_of_detail * wall) {
    tidy_.outline = outline;
    if (!sizes_are_fit()) return;
    each_ring([&](Ring& ring) { merge_corners(ring); });
    each_ring([&](Ring& ring) { check_count(ring); });
    if (!complaints_.empty()) return;
    check_crossings();
    if (!complaints_.empty()) return;
    each_ring([&](Ring& ring) { check_area(ring); });
    orient();
    check_places();
    if (!complaints_.empty()) return;
    unite();
    check_propellant();
    if (merged_ > 0) {
      tidy_.notes.insert(tidy_.notes.begin(), std::to_string(merged_) +
                                                  (merged_ == 1 ? " corner" : " corners") +
                                                  " merged: finer than 1e-8 of the wall's radius");
    }
  }

  std::vector<Complaint> complaints() const { return complaints_; }
  TidyOutline result() const { return tidy_; }

 private:
  template <typename Do>
  void each_ring(Do act) {
    for (Region& region : tidy_.outline.voids) {
      act(region.outer);
      for (Ring& hole : region.holes) act(hole);
    }
  }

  void complain(const std::string& given, const std::string& allowed) {
    complaints_.push_back({"outline", given, allowed, {}});
  }

  std::string within_wall() const {
    return "distances from the axis up to " + std::to_string(1e3 * wall_) + " mm";
  }

  bool sizes_are_fit() {
    if (!(wall_ > 0) || !std::isfinite(wall_)) {
      complaints_.push_back({"wall radius", std::to_string(wall_) + " m", "more than 0", {}});
    }
    std::size_t count = tidy_.outline.corner_count();
    if (count == 0) complain("no corners", "at least one ring");
    if (count > most_corners) {
      complain(std::to_string(count) + " corners",
               "at most " + std::to_string(most_corners) + "; draw curves more coarsely");
    }
    each_ring([&](Ring& ring) {
      for (const Corner& corner : ring) {
        bool fit = std::isfinite(corner.at.x) && std::isfinite(corner.at.y) &&
                   std::abs(corner.turn) < 2 * std::numbers::pi;
        if (!fit) {
          complain("a corner that is no number, or a full turn", "finite coordinates");
        } else if (std::hypot(corner.at.x, corner.at.y) > farthest_out * wall_) {
          complain("a corner far outside the tube at " + millimetres(corner.at),
                   within_wall() + "; see that the outline's unit is right");
          return;
        }
      }
    });
    return complaints_.empty();
  }

  // True where the corner between two straight edges lies on the line from the last corner kept, as
  // do all that were left out since; or where it goes back over its own way, a spike without width.
  bool is_needless(const Ring& kept, const std::vector<Point>& skipped, const Corner& here,
                   const Corner& next) const {
    const Corner& last = kept.back();
    if (last.turn != 0 || here.turn != 0) return false;
    if (distance_to_chord(here.at, last.at, next.at) > fine_) {
      return distance_to_chord(next.at, last.at, here.at) <= fine_ ||
             distance_to_chord(last.at, here.at, next.at) <= fine_;
    }
    return std::all_of(skipped.begin(), skipped.end(),
                       [&](Point p) { return distance_to_chord(p, last.at, next.at) <= fine_; });
  }

  void drop_doubles(Ring& ring) {
    Ring kept;
    for (const Corner& corner : ring) {
      bool same = !kept.empty() && norm(corner.at - kept.back().at) <= fine_;
      if (same) {
        kept.back().turn = corner.turn;
      } else {
        kept.push_back(corner);
      }
    }
    while (kept.size() > 1 && norm(kept.front().at - kept.back().at) <= fine_) kept.pop_back();
    ring = kept;
  }

  bool drop_needless(Ring& ring) {
    std::size_t before = ring.size();
    if (before < 3) return false;
    Ring kept = {ring[0]};
    std::vector<Point> skipped;
    for (std::size_t i = 1; i < before; ++i) {
      if (is_needless(kept, skipped, ring[i], ring[(i + 1) % before])) {
        skipped.push_back(ring[i].at);
      } else {
        kept.push_back(ring[i]);
        skipped.clear();
      }
    }
    if (kept.size() > 2 && is_needless({kept.back()}, {}, kept[0], kept[1])) {
      kept.erase(kept.begin());
    }
    ring = kept;
    return ring.size() < before;
  }

  // The last tangency of a spike shows only once its point is gone, hence the repetition.
  void merge_corners(Ring& ring) {
    std::size_t before = ring.size();
    do {
      drop_doubles(ring);
    } while (drop_needless(ring));
    merged_ += before - ring.size();
  }

  void complain_of_area(const Ring& ring) {
    Point at = ring.empty() ? Point{} : ring.front().at;
    complain("a ring without area at " + millimetres(at),
             "rings that enclose something; leave this one out");
  }

  void check_count(const Ring& ring) {
    if (ring.size() < (holds_arcs(ring) ? 2 : 3)) complain_of_area(ring);
  }

  void check_area(const Ring& ring) {
    if (std::abs(signed_area(ring)) <= least_area * wall_ * wall_) complain_of_area(ring);
  }

  void orient() {
    for (Region& region : tidy_.outline.voids) {
      if (signed_area(region.outer) < 0) reverse_ring(region.outer);
      for (Ring& hole : region.holes) {
        if (signed_area(hole) > 0) reverse_ring(hole);
      }
    }
  }

  void check_places() {
    for (const Region& region : tidy_.outline.voids) {
      if (!tidy_.outline.through_wall) check_inside_wall(region.outer);
      for (const Ring& hole : region.holes) check_hole(hole, region);
    }
  }

  // No edges cross by now, so one corner speaks for its ring.
  void check_hole(const Ring& hole, const Region& region) {
    Point corner = hole.front().at;
    if (!exact::inside(corner, straightened(region.outer))) {
      complain("a hole outside its void at " + millimetres(corner),
               "holes inside their own outer ring");
    }
    for (const Ring& other : region.holes) {
      if (&other == &hole || !exact::inside(corner, straightened(other))) continue;
      complain("a hole within a hole at " + millimetres(corner),
               "a void inside an island drawn as a void of its own");
    }
  }

  void check_inside_wall(const Ring& ring) {
    for (const Edge& edge : edges_of(ring)) {
      Point farthest = farthest_point(edge);
      if (norm(farthest) <= wall_ + fine_) continue;
      complain("a void outside the tube at " + millimetres(farthest),
               within_wall() + "; or say that its slots go through the wall");
      return;
    }
  }

  void check_crossings() {
    for (const Region& region : tidy_.outline.voids) {
      std::vector<Ring> rings = rings_of({{region}, false});
      std::vector<Point> points = exact::meetings(rings);
      for (Point p : crossings_of_arcs(rings)) points.push_back(p);
      if (points.empty()) continue;
      complain("edges that cross or touch at " + places(points),
               "rings that keep clear of themselves"
               " and of each other");
    }
  }

  void unite() {
    std::vector<Region>& voids = tidy_.outline.voids;
    if (voids.size() < 2 || clear_of_each_other(voids)) return;
    for (const Region& region : voids) {
      for (const Ring& ring : rings_of({{region}, false})) {
        if (!holds_arcs(ring) || is_circle(ring)) continue;
        complain("voids with curved edges near each other", "one ring that goes round both");
        return;
      }
    }
    std::size_t before = voids.size();
    tidy_.outline = exact::united(tidy_.outline);
    each_ring([&](Ring& ring) { drop_doubles(ring); });
    if (voids.size() < before) {
      tidy_.notes.push_back(std::to_string(before) + " voids that overlap united into " +
                            std::to_string(voids.size()));
    }
  }

  void check_propellant() {
    double section = std::numbers::pi * wall_ * wall_;
    if (tidy_.outline.through_wall || area_of(tidy_.outline) < section * (1 - least_area)) return;
    complain("a void that fills the tube", "a void that leaves propellant");
  }

  double wall_;
  double fine_;
  std::size_t merged_ = 0;
  TidyOutline tidy_;
  std::vector<Complaint> complaints_;
};

}  // namespace

std::vector<Complaint> complaints(const Outline& outline, double wall_radius) {
  return Tidying(outline, wall_radius).complaints();
}

TidyOutline tidied(const Outline& outline, double wall_radius) {
  Tidying tidying(outline, wall_radius);
  if (!tidying.complaints().empty()) throw InputError(tidying.complaints());
  return tidying.result();
}

}  // namespace grainwright
