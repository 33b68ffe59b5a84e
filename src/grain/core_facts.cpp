// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/grain/core_figures.hpp"
#include "plane.hpp"
#include "segment_front.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

// In the order of NamedCore.
constexpr std::array<std::string_view, 5> names = {"star", "slot", "cross", "slotted tube",
                                                   "wheel"};

// Of the surface over its length along the axis.
double slant_at(const TurnedCore& core, double z) {
  for (std::size_t i = 0; i + 1 < core.stations.size(); ++i) {
    const CoreStation& a = core.stations[i];
    const CoreStation& b = core.stations[i + 1];
    if (a.at < b.at && z <= b.at)
      return std::hypot(1, (b.diameter - a.diameter) / (2 * (b.at - a.at)));
  }
  return 1;
}

// Peak over mean burning area of a burn.
double neutrality(const Burnback& burnback) {
  return burnback.range().greatest * burnback.burnout() / burnback.propellant_volume(0);
}

// Farthest point of an edge from the axis: an end, or where the arc's radius points outward.
double reach_of(const Corner& from, Point to) {
  const double ends = std::max(norm(from.at), norm(to));
  if (from.turn == 0) return ends;
  const Point chord = to - from.at;
  const double radius = norm(chord) / (2 * std::sin(std::abs(from.turn) / 2));
  const double height = norm(chord) / (2 * std::tan(from.turn / 2));
  const Point normal = (1 / norm(chord)) * Point{-chord.y, chord.x};
  const Point centre = 0.5 * (from.at + to) + height * normal;
  // The point of the circle that lies farthest out, where the arc has it.
  double turned = angle_between(from.at - centre, norm(centre) > 0 ? centre : from.at - centre);
  if (from.turn < 0) turned = -turned;
  if (turned < 0) turned += 2 * pi;
  return turned <= std::abs(from.turn) ? norm(centre) + radius : ends;
}

double reach_of(const Outline& outline) {
  double reach = 0;
  for (const Region& region : outline.voids) {
    for (std::size_t i = 0; i < region.outer.size(); ++i) {
      const Point next = region.outer[(i + 1) % region.outer.size()].at;
      reach = std::max(reach, reach_of(region.outer[i], next));
    }
  }
  return reach;
}

double reach_of(const TurnedCore& core) {
  double reach = 0;
  for (const CoreStation& station : core.stations) reach = std::max(reach, station.diameter / 2);
  for (const CoreSlot& slot : core.slots) {
    const double widest = std::max(core.diameter_at(slot.at - slot.width / 2),
                                   core.diameter_at(slot.at + slot.width / 2));
    reach = std::max(reach, widest / 2 + slot.depth);
  }
  return reach;
}

}  // namespace

double web_to_wall(const Segment& segment) {
  const double burnout = burnout_web(segment);
  if (!segment.core || !segment.bare(Face::core)) return burnout;
  const auto* turned = std::get_if<TurnedCore>(&segment.core->shape);
  const double reach = turned ? reach_of(*turned) : reach_of(*outline_of(*segment.core));
  return std::clamp(segment.outer_diameter / 2 - reach, 0.0, burnout);
}

std::string_view name_of(const NamedCore& core) {
  return names[core.shape.index()];
}

std::optional<NamedCore> named_core(std::string_view name) {
  if (name == names[0]) return NamedCore{Star{}};
  if (name == names[1]) return NamedCore{Slot{}};
  if (name == names[2]) return NamedCore{Cross{}};
  if (name == names[3]) return NamedCore{SlottedTube{}};
  if (name == names[4]) return NamedCore{Wheel{}};
  return std::nullopt;
}

std::vector<std::string> core_remarks(const Segment& segment) {
  const auto outline = segment.core ? outline_of(*segment.core) : std::nullopt;
  if (!outline) return {};
  TidyOutline tidy = tidied(*outline, segment.outer_diameter / 2);
  std::vector<std::string> remarks = std::move(tidy.notes);
  for (std::string& warning : warnings(tidy.outline)) remarks.push_back(std::move(warning));
  return remarks;
}

std::optional<OffCentreCost> off_centre_cost(const Segment& segment) {
  const auto* core = segment.core ? std::get_if<OffCentreCore>(&segment.core->shape) : nullptr;
  if (core == nullptr || core->count != 1 || core->offset == 0 || !segment.bare(Face::core)) {
    return std::nullopt;
  }
  const Burnback burnback(Grain{{{segment, 1}}, 0});
  const double thick = (segment.outer_diameter - core->diameter) / 2;
  if (burnback.burnout() < (thick + core->offset) * (1 - 1e-12)) return std::nullopt;
  Segment centred = segment;
  centred.core = nullptr;
  centred.core_diameter = core->diameter;
  const double volume = burnback.propellant_volume(0);
  return OffCentreCost{core->offset,
                       thick - core->offset,
                       burnback.burnout(),
                       thick,
                       burnback.propellant_volume(thick - core->offset) / volume,
                       burnback.propellant_volume(thick) / volume,
                       neutrality(burnback),
                       neutrality(Burnback(Grain{{{centred, 1}}, 0}))};
}

CrossSection::CrossSection(const Segment& segment, double z)
    : core_(segment.core_diameter),
      outer_(segment.outer_diameter),
      core_burns_(segment.bare(Face::core)),
      outer_burns_(segment.bare(Face::outer)) {
  const auto* turned = segment.core ? std::get_if<TurnedCore>(&segment.core->shape) : nullptr;
  if (turned == nullptr) return;
  core_ = turned->diameter_at(z);
  slant_ = slant_at(*turned, z);
}

double CrossSection::girth(double web) const {
  return pi * ((core_burns_ ? slant_ * (core_ + 2 * slant_ * web) : 0) +
               (outer_burns_ ? outer_ - 2 * web : 0));
}

double CrossSection::section(double web) const {
  const double core = core_ + (core_burns_ ? 2 * slant_ * web : 0);
  const double outer = outer_ - (outer_burns_ ? 2 * web : 0);
  return pi / 4 * (outer - core) * (outer + core);
}

double CrossSection::burnout() const {
  const double speed = (core_burns_ ? slant_ : 0) + (outer_burns_ ? 1 : 0);
  return speed == 0 ? std::numeric_limits<double>::infinity() : (outer_ - core_) / (2 * speed);
}

bool shown_by_planes(const Segment& segment) {
  if (!segment.core) return true;
  const auto* turned = std::get_if<TurnedCore>(&segment.core->shape);
  return turned != nullptr && turned->slots.empty() && turned->head_dish == 0 &&
         turned->nozzle_dish == 0;
}

std::vector<CrossSection> cross_sections(const Segment& segment,
                                         const std::vector<double>& places) {
  if (!shown_by_planes(segment)) {
    throw InputError("core", "one that slices along the axis do not show",
                     "a round core in the middle, with flat ends and without slots");
  }
  std::vector<CrossSection> sections;
  for (double z : places) sections.emplace_back(segment, z);
  return sections;
}

Mouth mouth_of(const Segment& segment, Face end) {
  double diameter = segment.core_diameter;
  if (segment.core) {
    const auto* turned = std::get_if<TurnedCore>(&segment.core->shape);
    if (turned == nullptr) {
      const PlanarFront front = planar_front_of(segment);
      return {front.perimeter(0), front.section(0)};
    }
    const auto& stations = turned->stations;
    diameter = end == Face::head ? stations.front().diameter : stations.back().diameter;
  }
  const double outer = segment.outer_diameter;
  return {pi * diameter, pi / 4 * (outer - diameter) * (outer + diameter)};
}

}  // namespace grainwright
