// SPDX-License-Identifier: GPL-3.0-or-later
#include "cut.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace grainwright::drawing {
namespace {

Stroke turned_over(const Stroke& stroke) {
  return {{stroke.from.x, -stroke.from.y}, {stroke.to.x, -stroke.to.y}, -stroke.turn};
}

Stroke reversed(const Stroke& stroke) {
  return {stroke.to, stroke.from, -stroke.turn};
}

bool meet(Point a, Point b, double tolerance) {
  return std::hypot(a.x - b.x, a.y - b.y) <= tolerance;
}

/// Strokes in no order, joined end to end as far as they go.
std::vector<std::vector<Stroke>> chains_of(std::vector<Stroke> strokes, double tolerance) {
  std::vector<std::vector<Stroke>> chains;
  while (!strokes.empty()) {
    std::vector<Stroke> chain = {strokes.back()};
    strokes.pop_back();
    for (bool grew = true; grew;) {
      grew = false;
      for (auto i = strokes.begin(); i != strokes.end() && !grew; ++i) {
        grew = true;
        if (meet(i->from, chain.back().to, tolerance)) {
          chain.push_back(*i);
        } else if (meet(i->to, chain.back().to, tolerance)) {
          chain.push_back(reversed(*i));
        } else if (meet(i->to, chain.front().from, tolerance)) {
          chain.insert(chain.begin(), *i);
        } else if (meet(i->from, chain.front().from, tolerance)) {
          chain.insert(chain.begin(), reversed(*i));
        } else {
          grew = false;
        }
        if (grew) {
          strokes.erase(i);
          break;
        }
      }
    }
    chains.push_back(std::move(chain));
  }
  return chains;
}

/// A chain of the front closed along the wall; an end of it that stands on an inhibited end face
/// goes out to the wall along that face.
Ring closed_by_wall(const std::vector<Stroke>& chain, double length, double wall) {
  Ring ring;
  for (const Stroke& stroke : chain) ring.push_back({stroke.from, stroke.turn});
  const Point first = chain.front().from;
  const Point last = chain.back().to;
  ring.push_back({last, 0});
  const auto corner = [&](Point end) { return Corner{{end.x < length / 2 ? 0 : length, wall}, 0}; };
  if (last.y < wall * (1 - 1e-6)) ring.push_back(corner(last));
  if (first.y < wall * (1 - 1e-6)) ring.push_back(corner(first));
  return ring;
}

Ring turned_over(const Ring& ring) {
  Ring over;
  for (const Corner& corner : ring) over.push_back({{corner.at.x, -corner.at.y}, -corner.turn});
  return over;
}

Ring box(double from, double to, double low, double high) {
  return {{{from, low}, 0}, {{to, low}, 0}, {{to, high}, 0}, {{from, high}, 0}};
}

}  // namespace

std::optional<Turned> turned_of(const Segment& segment) {
  if (segment.core) {
    const auto* core = std::get_if<TurnedCore>(&segment.core->shape);
    return core ? std::optional(body_of(segment, *core)) : std::nullopt;
  }
  const double radius = segment.core_diameter / 2;
  Turned body = tapered(segment.length, segment.outer_diameter / 2, radius, radius);
  body.inhibited = segment.inhibited;
  return body;
}

WholeCut::WholeCut(const Segment& segment)
    : length_(segment.length), wall_(segment.outer_diameter / 2) {
  if (const auto body = turned_of(segment)) {
    profile_ = profile_of(*body);
  } else {
    outline_ = turned_to_show(*outline_of(*segment.core), wall_);
    plane_.emplace(*outline_, wall_);
  }
}

std::vector<Ring> WholeCut::propellant() const {
  std::vector<Ring> rings;
  if (plane_) {
    for (const auto& [low, high] : plane_->propellant(plane_->heights(), 0)) {
      rings.push_back(box(0, length_, low, high));
    }
    return rings;
  }
  Ring upper;
  for (const ProfileCorner& corner : profile_) upper.push_back({{corner.z, corner.r}, 0});
  rings.push_back(upper);
  rings.push_back(turned_over(upper));
  return rings;
}

std::vector<Stroke> WholeCut::face(Face face) const {
  return plane_ ? swept_face(face) : turned_face(face);
}

std::vector<Stroke> WholeCut::swept_face(Face face) const {
  std::vector<Stroke> strokes;
  for (const auto& [low, high] : plane_->propellant(plane_->heights(), 0)) {
    if (face == Face::head) strokes.push_back({{0, low}, {0, high}, 0});
    if (face == Face::nozzle) strokes.push_back({{length_, low}, {length_, high}, 0});
    for (double y : {low, high}) {
      const Face along = std::abs(y) < wall_ ? Face::core : Face::outer;
      if (face == along) strokes.push_back({{0, y}, {length_, y}, 0});
    }
  }
  return strokes;
}

std::vector<Stroke> WholeCut::turned_face(Face face) const {
  std::vector<Stroke> strokes;
  const std::size_t last = profile_.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    const Face along = i == 0          ? Face::head
                       : i == last     ? Face::outer
                       : i == last - 1 ? Face::nozzle
                                       : Face::core;
    const ProfileCorner& a = profile_[i];
    const ProfileCorner& b = profile_[i == last ? 0 : i + 1];
    if (face != along || (a.r == 0 && b.r == 0)) continue;
    strokes.push_back({{a.z, a.r}, {b.z, b.r}, 0});
    strokes.push_back(turned_over(strokes.back()));
  }
  return strokes;
}

Cut::Cut(const Segment& segment)
    : segment_(segment), burnout_(burnout_web(segment)), whole_(segment) {
  if (whole_.outline()) {
    planar_.emplace(*whole_.outline(), segment.outer_diameter / 2);
  } else {
    revolved_.emplace(whole_.profile());
  }
}

Remains Cut::at(double web) const {
  if (web >= burnout_) return {};
  return revolved_ ? turned_at(web) : swept_at(web);
}

Remains Cut::turned_at(double web) const {
  Remains remains;
  const double wall = segment_.outer_diameter / 2;
  const std::vector<Stroke> upper = revolved_->strokes(web);
  for (const auto& chain : chains_of(upper, 1e-6 * wall)) {
    remains.propellant.push_back(closed_by_wall(chain, segment_.length, wall));
    remains.propellant.push_back(turned_over(remains.propellant.back()));
  }
  for (const Stroke& stroke : upper) {
    remains.front.push_back(stroke);
    remains.front.push_back(turned_over(stroke));
  }
  return remains;
}

Remains Cut::swept_at(double web) const {
  Remains remains;
  const double wall = segment_.outer_diameter / 2;
  const double from = segment_.bare(Face::head) ? web : 0;
  const double to = segment_.length - (segment_.bare(Face::nozzle) ? web : 0);
  const bool core_burns = segment_.bare(Face::core);
  const double burned = core_burns ? web : 0;
  const std::vector<double> heights =
      burned > 0 ? crossings_of(planar_->strokes(burned)) : whole_.plane()->heights();
  for (const auto& [low, high] : whole_.plane()->propellant(heights, burned)) {
    remains.propellant.push_back(box(from, to, low, high));
    if (segment_.bare(Face::head)) remains.front.push_back({{from, low}, {from, high}, 0});
    if (segment_.bare(Face::nozzle)) remains.front.push_back({{to, low}, {to, high}, 0});
    if (!core_burns) continue;
    if (low > -wall) remains.front.push_back({{from, low}, {to, low}, 0});
    if (high < wall) remains.front.push_back({{from, high}, {to, high}, 0});
  }
  return remains;
}

std::vector<Stroke> Cut::held() const {
  std::vector<Stroke> held;
  for (Face face : all_faces) {
    if (segment_.bare(face)) continue;
    const std::vector<Stroke> side = whole_.face(face);
    held.insert(held.end(), side.begin(), side.end());
  }
  return held;
}

}  // namespace grainwright::drawing
