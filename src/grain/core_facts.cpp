// SPDX-License-Identifier: GPL-3.0-or-later
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/grain/core_figures.hpp"
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

}  // namespace

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

std::vector<CrossSection> cross_sections(const Segment& segment,
                                         const std::vector<double>& places) {
  const auto refuse = [](const char* key, const char* what) {
    throw InputError(key, what, "a round core in the middle, with flat ends and without slots");
  };
  if (segment.core) {
    const auto* turned = std::get_if<TurnedCore>(&segment.core->shape);
    if (turned == nullptr) {
      refuse("core", "a core that is not round and in the middle");
    } else if (!turned->slots.empty()) {
      refuse("slot", "radial slots");
    } else if (turned->head_dish > 0 || turned->nozzle_dish > 0) {
      refuse(turned->head_dish > 0 ? "head_dish" : "nozzle_dish", "a coned end");
    }
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
      const PlanarFront front(*outline_of(*segment.core), segment.outer_diameter / 2);
      return {front.perimeter(0), front.section(0)};
    }
    const auto& stations = turned->stations;
    diameter = end == Face::head ? stations.front().diameter : stations.back().diameter;
  }
  const double outer = segment.outer_diameter;
  return {pi * diameter, pi / 4 * (outer - diameter) * (outer + diameter)};
}

}  // namespace grainwright
