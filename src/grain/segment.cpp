// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/segment.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "grainwright/quantity.hpp"
#include "segment_front.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

// A length as a complaint shows it.
std::string shown(double metres) {
  return std::isfinite(metres) ? show_length(metres, UnitSystem::si) : std::to_string(metres);
}

bool positive(double value) {
  return std::isfinite(value) && value > 0;
}

}  // namespace

std::string_view name_of(Face face) {
  switch (face) {
    case Face::head:
      return "head";
    case Face::nozzle:
      return "nozzle";
    case Face::core:
      return "core";
    case Face::outer:
      return "outer";
  }
  return "";
}

bool Segment::bare(Face face) const {
  if (face == Face::core && solid()) return false;
  return !inhibited.contains(face);
}

int Segment::bare_ends() const {
  return int{bare(Face::head)} + int{bare(Face::nozzle)};
}

std::vector<Complaint> complaints(const Segment& segment) {
  SharedFront front;
  return complaints(segment, front);
}

std::vector<Complaint> complaints(const Segment& segment, SharedFront& front) {
  std::vector<Complaint> found;
  if (!positive(segment.length)) {
    found.push_back({"length", shown(segment.length), "a length above zero"});
  }
  if (!positive(segment.outer_diameter)) {
    found.push_back({"outer_diameter", shown(segment.outer_diameter), "a diameter above zero"});
  }
  const double core = segment.core ? 0 : segment.core_diameter;
  if (!std::isfinite(core) || core < 0) {
    found.push_back({"core", shown(core), "a diameter, or 0 for a solid segment"});
  } else if (core >= segment.outer_diameter && positive(segment.outer_diameter)) {
    found.push_back(
        {"core", shown(core),
         "narrower than the segment's outer diameter of " + shown(segment.outer_diameter)});
  }
  if (std::ranges::none_of(all_faces, [&](Face face) { return segment.bare(face); })) {
    found.push_back(
        {"inhibited",
         segment.solid() ? "every face of a solid segment" : "every face of the segment",
         "at least one face bare, or nothing burns"});
  }
  if (segment.core && found.empty()) return core_complaints(segment, front);
  return found;
}

double burnout_web(const Segment& segment) {
  if (segment.core) return front_of(segment)->burnout();
  const int moving_walls = int{segment.bare(Face::core)} + int{segment.bare(Face::outer)};
  const int ends = segment.bare_ends();
  double web = std::numeric_limits<double>::infinity();
  if (moving_walls > 0) {
    web = (segment.outer_diameter - segment.core_diameter) / (2 * moving_walls);
  }
  if (ends > 0) web = std::min(web, segment.length / ends);
  return web;
}

SegmentState state_at(const Segment& segment, double web) {
  if (segment.core) return front_of(segment)->state(web);
  const double full = pi / 4 * segment.outer_diameter * segment.outer_diameter;
  if (web > burnout_web(segment)) return {.port_area = full};
  const bool core_burns = segment.bare(Face::core);
  const bool outer_burns = segment.bare(Face::outer);
  const int ends = segment.bare_ends();

  SegmentState state;
  // Rounding may carry a face past the one it meets at burnout itself.
  state.length = std::max(0.0, segment.length - ends * web);
  state.core_diameter = segment.core_diameter + (core_burns ? 2 * web : 0);
  state.outer_diameter =
      std::max(state.core_diameter, segment.outer_diameter - (outer_burns ? 2 * web : 0));
  const double c = state.core_diameter;
  const double o = state.outer_diameter;
  const double section = pi / 4 * (o - c) * (o + c);
  state.burning_area =
      pi * ((core_burns ? c : 0) + (outer_burns ? o : 0)) * state.length + ends * section;
  state.volume = section * state.length;
  state.port_area = full - section;
  return state;
}

}  // namespace grainwright
