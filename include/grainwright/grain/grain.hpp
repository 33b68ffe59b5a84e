// SPDX-License-Identifier: GPL-3.0-or-later
//
// The whole stack of segments, head end first.
#pragma once

#include <vector>

#include "grainwright/grain/segment.hpp"

namespace grainwright {

/// So many equal segments next to each other.
struct Layer {
  Segment segment;
  int count = 1;
  bool operator==(const Layer&) const = default;
};

/// The stack, head end first. Between neighbours there is a gap of `spacer` metres.
struct Grain {
  std::vector<Layer> layers;
  double spacer = 0;

  bool operator==(const Grain&) const = default;

  /// Of all layers together.
  [[nodiscard]] int segment_count() const;
  /// Segments and the spacers between them, m.
  [[nodiscard]] double stack_length() const;
  /// Propellant volume before lighting, m3.
  [[nodiscard]] double propellant_volume() const;
};

/// Most segments of a stack; beyond any motor.
inline constexpr int most_segments = 1000;

/// Everything wrong with a stack: each segment's complaints with keys like "segment 2: core", more
/// than `most_segments`, and a solid segment that would block the gas of what lies headward of it.
[[nodiscard]] std::vector<Complaint> complaints(const Grain& grain);

}  // namespace grainwright
