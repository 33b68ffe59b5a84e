// SPDX-License-Identifier: GPL-3.0-or-later
//
// Cores other than a plain round one in the middle: turned (tapered as a mandrel with draft is,
// stepped, slotted, coned), off centre, several, named by the literature, or drawn. How they burn:
// docs/outline.md and docs/burnback.md.
//
// The outer face of a segment with such a core must be inhibited.
#pragma once

#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "grainwright/grain/core_shapes.hpp"
#include "grainwright/grain/planar_front.hpp"
#include "grainwright/grain/revolved_front.hpp"
#include "grainwright/grain/segment.hpp"

namespace grainwright {

/// A slot cut from the core outward, all round; its faces burn with the core. Lengths in m.
struct CoreSlot {
  double at = 0;     ///< of the middle of its width, from the head end
  double width = 0;  ///< along the axis
  double depth = 0;  ///< outward from the core's surface, where that is widest
  bool operator==(const CoreSlot&) const = default;
};

/// A core's diameter at a place along it. In m.
struct CoreStation {
  double at = 0;  ///< from the head end
  double diameter = 0;
  bool operator==(const CoreStation&) const = default;
};

/// A round core in the middle: its diameters in m, straight lines between them; perhaps with radial
/// slots; perhaps in ends that are coned.
struct TurnedCore {
  /// From the head end to the nozzle end, two at least. Two at one place make a step.
  std::vector<CoreStation> stations = {};
  std::vector<CoreSlot> slots = {};
  double head_dish = 0;    ///< how far the head end stands back at the core: a cone to the outside
  double nozzle_dish = 0;  ///< the same at the nozzle end
  bool operator==(const TurnedCore&) const = default;

  /// Diameter at a place along it; the wider one at a step.
  [[nodiscard]] double diameter_at(double z) const;
};

/// A straight core from one diameter at the head end to another at the nozzle end.
[[nodiscard]] TurnedCore tapered_core(double length, double head, double nozzle);

/// Round cores parallel to the axis and evenly around it, the first one on the x axis. In m.
struct OffCentreCore {
  double diameter = 0;
  double offset = 0;  ///< of each core's axis from the segment's
  int count = 1;
  bool operator==(const OffCentreCore&) const = default;
};

/// Round cores parallel to the axis, anywhere; they may overlap.
struct ScatteredCores {
  std::vector<RoundCore> cores;
  bool operator==(const ScatteredCores&) const = default;
};

/// A core with a name in the literature (core_shapes.hpp).
struct NamedCore {
  std::variant<Star, Slot, Cross, SlottedTube, Wheel> shape;
  bool operator==(const NamedCore&) const = default;
};

/// A core with any outline, the same from end to end.
struct DrawnCore {
  Outline outline;
  /// Where the outline came from a job: its WKT or the name of its file, and its unit.
  std::string source = {};
  std::string unit = {};
  bool operator==(const DrawnCore&) const = default;
};

/// The fronts that a core has made already, one a wall radius: they cost more than all that is
/// asked of them, and segments of any length share them. No part of the core's value: a copy begins
/// without, and all are equal. Several threads may ask at once.
class KeptFronts {
 public:
  KeptFronts() = default;
  KeptFronts(const KeptFronts&) {}
  KeptFronts& operator=(const KeptFronts&);
  ~KeptFronts() = default;
  bool operator==(const KeptFronts&) const { return true; }

  /// The front inside a wall of this radius (m), made where it is not there yet.
  [[nodiscard]] PlanarFront inside(double wall_radius,
                                   const std::function<PlanarFront()>& make) const;

 private:
  mutable std::mutex mutex_;
  mutable std::vector<std::pair<double, PlanarFront>> fronts_;
};

/// A core of any kind.
struct Core {
  std::variant<TurnedCore, OffCentreCore, ScatteredCores, NamedCore, DrawnCore> shape;
  KeptFronts kept = {};
  bool operator==(const Core&) const = default;
};

/// The segment with this core instead of its own.
[[nodiscard]] Segment with_core(Segment segment, Core core);

/// The segment at another length, its core carried on to the new nozzle end.
[[nodiscard]] Segment with_length(Segment segment, double length);

/// The void of a core that is the same from end to end; none where it is turned. Throws InputError
/// where the numbers make no shape.
[[nodiscard]] std::optional<Outline> outline_of(const Core& core);

/// The body of a segment with a turned core, for RevolvedFront. Throws InputError where a slot does
/// not fit.
[[nodiscard]] Turned body_of(const Segment& segment, const TurnedCore& core);

/// What deserves a word though it burns: how a drawing was tidied, islands that nothing holds.
/// Throws InputError where the core makes no segment.
[[nodiscard]] std::vector<std::string> core_remarks(const Segment& segment);

/// Web at which the front first meets the wall, or the segment is gone, m: from then on the tube
/// sees flame somewhere. 0 where the core itself reaches the wall.
[[nodiscard]] double web_to_wall(const Segment& segment);

/// What a core off centre costs; per metre of offset where that is asked, by dividing.
struct OffCentreCost {
  double offset = 0;             ///< m
  double break_out = 0;          ///< web at which the core meets the wall, m
  double burnout = 0;            ///< m
  double centred = 0;            ///< web at which the same core in the middle would be out, m
  double left_at_break_out = 0;  ///< share of the propellant
  double left_at_centred = 0;  ///< share left when a core in the middle would be out: the tail-off
  double neutrality = 0;       ///< peak over mean burning area
  double centred_neutrality = 0;
};
/// None where the segment has no single core off centre, or its ends meet before the core is out.
[[nodiscard]] std::optional<OffCentreCost> off_centre_cost(const Segment& segment);

/// A segment's plane at one place along it, its ends apart: burning girth and propellant section
/// against the web there. A core that slopes is a cylinder of the diameter at that place here.
class CrossSection {
 public:
  /// Of a plain round core or a turned one.
  CrossSection(const Segment& segment, double z);

  [[nodiscard]] double girth(double web) const;    ///< m
  [[nodiscard]] double section(double web) const;  ///< m2; goes on smoothly past the end
  /// m; infinite where neither core nor outside burns.
  [[nodiscard]] double burnout() const;

 private:
  double core_ = 0;  // diameters
  double outer_ = 0;
  double slant_ = 1;  // of a sloping core's surface over its length along the axis
  bool core_burns_ = false;
  bool outer_burns_ = false;
};

/// Whether planes along a segment show its core: round, in the middle, without slots or coned ends.
[[nodiscard]] bool shown_by_planes(const Segment& segment);

/// The planes at these places from the head end. Throws InputError where the core is not round and
/// in the middle, or has slots or coned ends, which no such plane shows.
[[nodiscard]] std::vector<CrossSection> cross_sections(const Segment& segment,
                                                       const std::vector<double>& places);

/// A core's opening at one end before lighting: its girth (m) and the propellant around it (m2).
struct Mouth {
  double girth = 0;  ///< 0 where the segment is solid
  double section = 0;
};
[[nodiscard]] Mouth mouth_of(const Segment& segment, Face end);

}  // namespace grainwright
