// SPDX-License-Identifier: GPL-3.0-or-later
//
// Segments as the tests of this room write them: millimetres, head end first.
#pragma once

#include "grainwright/grain/grain.hpp"

namespace shapes {

inline constexpr double mm = 1e-3;

// The usual ways to inhibit a segment whose outside is bonded to its tube.
inline constexpr grainwright::Faces both_ends_bare = {grainwright::Face::outer};
inline constexpr grainwright::Faces head_bare = {grainwright::Face::outer,
                                                 grainwright::Face::nozzle};
inline constexpr grainwright::Faces nozzle_bare = {grainwright::Face::outer,
                                                   grainwright::Face::head};
inline constexpr grainwright::Faces core_only = {grainwright::Face::outer, grainwright::Face::head,
                                                 grainwright::Face::nozzle};

inline grainwright::Segment segment_mm(double outer, double core, double length,
                                       grainwright::Faces inhibited = both_ends_bare) {
  return {.length = length * mm,
          .outer_diameter = outer * mm,
          .core_diameter = core * mm,
          .inhibited = inhibited};
}

inline grainwright::Grain stack(std::vector<grainwright::Segment> segments, double spacer_mm = 0) {
  grainwright::Grain grain{.layers = {}, .spacer = spacer_mm * mm};
  for (const auto& segment : segments) grain.layers.push_back({.segment = segment, .count = 1});
  return grain;
}

}  // namespace shapes
