// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a closure or a nozzle is held in its pipe, and every way in which that can let go. Loads are
// taken as shared evenly by all of a joint; real joints peak at their ends and at the first pin.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "grainwright/strength/material.hpp"
#include "grainwright/strength/tube.hpp"

namespace grainwright {

/// A lap of cement or glue around the closure.
struct BondedJoint {
  Material bond;
  double length = 0;     ///< m, along the axis
  double starts = 0;     ///< m behind the closure's gas side
  double diameter = 0;   ///< m, of the bonded surface; the bore, or the outside for a cap
  double cure_time = 0;  ///< s
};

/// Radial pins or screws through the pipe into the closure.
struct PinnedJoint {
  Material pin;
  int count = 0;
  double diameter = 0;      ///< m
  double pitch = 0;         ///< m, of a screw's thread, which then lies in the shear plane; 0 a pin
  double depth = 0;         ///< m, from the closure's gas side to the centres of the holes
  double reach = 0;         ///< m, of a pin inside the closure
  double end_distance = 0;  ///< m, from the centres of the holes to the end of the pipe
};

/// A plug cast behind a lip of the pipe.
struct LipJoint {
  double opening = 0;    ///< m, diameter inside the lip
  double thickness = 0;  ///< m, of the lip along the axis
};

/// A plug cast into holes of the pipe: its own material makes the pins.
struct HoleJoint {
  int count = 0;
  double diameter = 0;      ///< m
  double depth = 0;         ///< m, from the plug's gas side to the centres
  double end_distance = 0;  ///< m, to the end of the pipe
};

/// The closure screwed into the pipe; 60-degree threads (ISO, Unified).
struct ThreadedJoint {
  double diameter = 0;    ///< m, major
  double pitch = 0;       ///< m
  double engagement = 0;  ///< m
  double play = 0;        ///< m, of the two pitch diameters
};

/// A load that the builder has proved.
struct RatedJoint {
  double load = 0;  ///< N
};

using Joint =
    std::variant<BondedJoint, PinnedJoint, LipJoint, HoleJoint, ThreadedJoint, RatedJoint>;

/// What is joined: the pipe, and the plug in it. `thickness` of the plug along the axis, m.
struct Seat {
  Tube tube;
  Material pipe;
  Material plug;
  double thickness = 0;
};

/// One way in which a joint lets go. `from` and `to`: the depths behind the plug's gas side over
/// which its strength is averaged, since a ductile joint hands load on from its hot end; equal for
/// one place.
struct JointMode {
  std::string name;
  double capacity = 0;  ///< N, cold
  Material material;    ///< which loses strength with heat
  double from = 0;      ///< m
  double to = 0;        ///< m
};

/// Every mode, in the order of the load's path. Nothing is checked.
[[nodiscard]] std::vector<JointMode> modes_of(const Joint& joint, const Seat& seat);

/// Pins that overlap, holes too near an end, a bond longer than its plug, strengths that the
/// materials do not have, ...
[[nodiscard]] std::vector<Complaint> complaints(const Joint& joint, const Seat& seat);

/// "bonded", "pinned", "screwed", "keyed", "threaded" or "rated".
[[nodiscard]] std::string name_of(const Joint& joint);

/// Thread stress area of a screw, pi/4 (d - c p)^2, m2, with c = 0.938194 for ISO threads and
/// 0.9743 for Unified ones (Machinery's Handbook). Screws of a joint are taken as Unified, the
/// lesser.
enum class ThreadForm { iso, unified };
[[nodiscard]] double stress_area(double diameter, double pitch, ThreadForm form);

/// Limits of a pair of 60-degree threads, m.
struct ThreadLimits {
  double least_major = 0;           ///< of the screw
  double least_pitch_diameter = 0;  ///< of the screw
  double most_pitch_diameter = 0;   ///< of the hole
  double most_minor = 0;            ///< of the hole
  double pitch = 0;
};
/// Area that shears when the screw's, or the hole's, threads strip over a length of engagement, m2.
/// FED-STD-H28/2 (from memory).
[[nodiscard]] double screw_strip_area(const ThreadLimits& thread, double engagement);
[[nodiscard]] double hole_strip_area(const ThreadLimits& thread, double engagement);
/// Engagement at which the screw breaks before its threads strip, m (from memory: FED-STD-H28/2).
[[nodiscard]] double full_strength_engagement(const ThreadLimits& thread, double stress_area);

}  // namespace grainwright
