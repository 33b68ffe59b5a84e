// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/core.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <utility>

#include "grainwright/quantity.hpp"
#include "plane.hpp"
#include "segment_front.hpp"

namespace grainwright {
namespace {

std::string shown(double metres) {
  return std::isfinite(metres) ? show_length(metres, UnitSystem::si) : std::to_string(metres);
}

// What the numbers alone show; whether the front can run is asked of the front.
class Checker {
 public:
  explicit Checker(const Segment& segment) : segment_(segment) {}

  void operator()(const TurnedCore& core) {
    const bool straight = core.stations.size() == 2;
    if (core.stations.size() < 2) {
      found_.push_back({"core", "a core without two ends", "its diameter at both ends at least"});
    }
    for (std::size_t i = 0; i < core.stations.size(); ++i) {
      diameter(straight ? (i == 0 ? "core.head" : "core.nozzle") : "core.stations",
               core.stations[i].diameter);
    }
    for (std::size_t i = 0; i < core.slots.size(); ++i) {
      const CoreSlot& slot = core.slots[i];
      const std::string key = "slot " + std::to_string(i + 1) + ": ";
      above_zero(key + "at", slot.at);
      above_zero(key + "width", slot.width);
      above_zero(key + "depth", slot.depth);
    }
    dish("head_dish", core.head_dish);
    dish("nozzle_dish", core.nozzle_dish);
  }
  void operator()(const OffCentreCore& core) {
    diameter("core.diameter", core.diameter);
    if (core.count < 1) {
      found_.push_back({"core.count", std::to_string(core.count), "1 or more"});
    }
    const double most = (segment_.outer_diameter - core.diameter) / 2;
    if (core.offset >= 0 && (core.offset < most || most <= 0)) return;
    found_.push_back({"core.offset", shown(core.offset),
                      "0 or more, less than the thickness of " + shown(most) +
                          " that a core in the middle leaves"});
  }
  void operator()(const ScatteredCores& cores) {
    if (cores.cores.empty()) found_.push_back({"core.round", "none", "one round core at least"});
  }
  void operator()(const NamedCore&) {}
  void operator()(const DrawnCore&) {}

  [[nodiscard]] std::vector<Complaint> found() && { return std::move(found_); }

 private:
  void above_zero(const std::string& key, double value) {
    if (std::isfinite(value) && value > 0) return;
    found_.push_back({key, shown(value), "a length above zero"});
  }
  void dish(const std::string& key, double value) {
    if (std::isfinite(value) && value >= 0) return;
    found_.push_back({key, shown(value), "a length, 0 or more"});
  }
  void diameter(const std::string& key, double value) {
    above_zero(key, value);
    if (!(value >= segment_.outer_diameter)) return;
    found_.push_back(
        {key, shown(value),
         "narrower than the segment's outer diameter of " + shown(segment_.outer_diameter)});
  }

  const Segment& segment_;
  std::vector<Complaint> found_;
};

struct MakeOutline {
  std::optional<Outline> operator()(const TurnedCore&) const { return std::nullopt; }
  std::optional<Outline> operator()(const OffCentreCore& core) const {
    std::vector<RoundCore> cores;
    for (int i = 0; i < core.count; ++i) {
      cores.push_back(
          {core.offset * unit(2 * std::numbers::pi * i / core.count), core.diameter / 2});
    }
    return round_cores(cores);
  }
  std::optional<Outline> operator()(const ScatteredCores& core) const {
    return round_cores(core.cores);
  }
  std::optional<Outline> operator()(const NamedCore& core) const {
    return std::visit(*this, core.shape);
  }
  std::optional<Outline> operator()(const DrawnCore& core) const { return core.outline; }
  std::optional<Outline> operator()(const Star& shape) const { return star(shape); }
  std::optional<Outline> operator()(const Slot& shape) const { return slot(shape); }
  std::optional<Outline> operator()(const Cross& shape) const { return cross(shape.arm); }
  std::optional<Outline> operator()(const SlottedTube& shape) const { return slotted_tube(shape); }
  std::optional<Outline> operator()(const Wheel& shape) const { return wheel(shape); }
};

// The kernels' names for what the segment calls otherwise.
std::string key_in_segment(const Segment& segment, std::string key) {
  if (key == "inhibited" || key == "length") return key;
  std::ranges::replace(key, ' ', '_');
  if (key == "head_dish" || key == "nozzle_dish") return key;
  const auto* named = std::get_if<NamedCore>(&segment.core->shape);
  if (named == nullptr) return key.starts_with("slot") ? "slot" : "core";
  const bool arms =
      std::holds_alternative<Slot>(named->shape) || std::holds_alternative<Cross>(named->shape);
  if (arms && key.starts_with("slot_")) key.erase(0, 5);
  return key == "outline" || key.empty() ? "core" : "core." + key;
}

}  // namespace

bool Segment::operator==(const Segment& other) const {
  const bool same_core = core && other.core ? *core == *other.core : core == other.core;
  return length == other.length && outer_diameter == other.outer_diameter &&
         (core || core_diameter == other.core_diameter) && inhibited == other.inhibited &&
         same_core;
}

KeptFronts& KeptFronts::operator=(const KeptFronts& other) {
  if (this == &other) return *this;
  const std::lock_guard lock(mutex_);
  fronts_.clear();
  return *this;
}

PlanarFront KeptFronts::inside(double wall_radius, const std::function<PlanarFront()>& make) const {
  const std::lock_guard lock(mutex_);
  const auto found =
      std::ranges::find(fronts_, wall_radius, &std::pair<double, PlanarFront>::first);
  if (found != fronts_.end()) return found->second;
  return fronts_.emplace_back(wall_radius, make()).second;
}

Segment with_core(Segment segment, Core core) {
  segment.core = std::make_shared<const Core>(std::move(core));
  segment.core_diameter = 0;
  return segment;
}

double TurnedCore::diameter_at(double z) const {
  double widest = 0;
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const CoreStation& a = stations[i];
    const CoreStation& b = stations[i + 1];
    if (z < a.at || z > b.at) continue;
    const double here = a.at == b.at
                            ? std::max(a.diameter, b.diameter)
                            : a.diameter + (b.diameter - a.diameter) * (z - a.at) / (b.at - a.at);
    widest = std::max(widest, here);
  }
  return widest;
}

TurnedCore tapered_core(double length, double head, double nozzle) {
  return {{{0, head}, {length, nozzle}}};
}

std::optional<Outline> outline_of(const Core& core) {
  return std::visit(MakeOutline{}, core.shape);
}

Segment with_length(Segment segment, double length) {
  const auto* turned = segment.core ? std::get_if<TurnedCore>(&segment.core->shape) : nullptr;
  if (turned != nullptr && !turned->stations.empty()) {
    TurnedCore core = *turned;
    core.stations.back().at = length;
    segment = with_core(std::move(segment), {std::move(core)});
  }
  segment.length = length;
  return segment;
}

std::vector<Complaint> core_complaints(const Segment& segment, SharedFront& front) {
  Checker checker(segment);
  std::visit(std::ref(checker), segment.core->shape);
  std::vector<Complaint> found = std::move(checker).found();
  if (segment.bare(Face::outer)) {
    found.push_back({"inhibited", "a bare outer face",
                     "\"outer\" among the inhibited faces: only a plain round core may burn from "
                     "outside as well"});
  }
  if (!found.empty()) return found;
  try {
    front = front_of(segment);
  } catch (const InputError& error) {
    found = error.complaints();
    for (Complaint& complaint : found) {
      complaint.key = key_in_segment(segment, std::move(complaint.key));
    }
  }
  return found;
}

}  // namespace grainwright
