// SPDX-License-Identifier: GPL-3.0-or-later
//
// Mistakes: what a motor becomes when one thing goes wrong in its making, and how often it does.
#pragma once

#include <string>
#include <vector>

#include "grainwright/error.hpp"
#include "grainwright/motor/motor.hpp"

namespace grainwright {

enum class FaultKind {
  face_lights,   ///< an inhibited face burns
  face_blocked,  ///< a bare face does not
  crack,         ///< across the segment; both its sides burn
  debond,        ///< the outer face burns, its tube having let go
  wrong_throat,  ///< another drill
  wrong_core,    ///< another core rod
};

/// "face lights", "face blocked", "crack", "debond", "wrong throat" or "wrong core"; and back.
[[nodiscard]] std::string_view name_of(FaultKind kind);
[[nodiscard]] const std::vector<FaultKind>& all_fault_kinds();

/// One mistake that a builder can make.
struct Fault {
  FaultKind kind = FaultKind::face_lights;
  double probability = 0;  ///< of a motor; 0 for a mistake that is looked at but not counted in
  std::size_t layer = 0;   ///< which kind of segment, counted from 0
  int pieces = 1;          ///< how many of its segments are hit
  Face face = Face::head;  ///< of face_lights and face_blocked
  double extra_area = 0;   ///< m2 of burning area at lighting that the crack in one piece adds
  double diameter = 0;     ///< m, of wrong_throat and wrong_core

  bool operator==(const Fault&) const = default;
};

/// "segment 2: head lights", "throat of 8 mm": what it is called in print.
[[nodiscard]] std::string described(const Fault& fault, const Motor& motor);

/// What cannot be: no such segment, a face that burns already, a core wider than the segment, ...
/// `index` counts from 0; keys read "fault 1: face".
[[nodiscard]] std::vector<Complaint> complaints(const Fault& fault, const Motor& motor,
                                                std::size_t index);

/// The mistakes that a motor of this kind lends itself to, one of each kind a segment, with no
/// probability: for a builder who has listed none. A crack runs through the whole section; drills
/// and rods are the neighbours of the right one among the given ones (m).
[[nodiscard]] std::vector<Fault> usual_faults(const Motor& motor,
                                              const std::vector<double>& throats,
                                              const std::vector<double>& mandrels);

}  // namespace grainwright
