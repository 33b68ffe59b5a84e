// SPDX-License-Identifier: GPL-3.0-or-later
//
// One cast segment: a cylinder with a core along its axis and four faces, each bare (it burns) or
// inhibited. Bare faces regress by the web burned, normal to themselves; inhibited faces stay put.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string_view>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

/// The four faces of a segment.
enum class Face : std::uint8_t { head, nozzle, core, outer };

inline constexpr std::array<Face, 4> all_faces = {Face::head, Face::nozzle, Face::core,
                                                  Face::outer};

/// "head", "nozzle", "core" or "outer".
[[nodiscard]] std::string_view name_of(Face face);

/// A set of faces.
class Faces {
 public:
  constexpr Faces() = default;
  constexpr Faces(std::initializer_list<Face> faces) {
    for (Face face : faces) insert(face);
  }
  constexpr void insert(Face face) { bits_ = static_cast<std::uint8_t>(bits_ | bit(face)); }
  [[nodiscard]] constexpr bool contains(Face face) const { return (bits_ & bit(face)) != 0; }
  [[nodiscard]] constexpr bool empty() const { return bits_ == 0; }
  constexpr bool operator==(const Faces&) const = default;

 private:
  static constexpr std::uint8_t bit(Face face) {
    return static_cast<std::uint8_t>(1U << static_cast<unsigned>(face));
  }
  std::uint8_t bits_ = 0;
};

struct Core;

/// One cast piece. Lengths in m. A core diameter of 0 is a solid segment, which has no core face.
struct Segment {
  double length = 0;
  double outer_diameter = 0;
  double core_diameter = 0;  ///< of a plain round core; not read where there is a `core`
  Faces inhibited = {Face::outer};
  std::shared_ptr<const Core> core = {};  ///< any other core (core.hpp); null for a plain round one

  /// Cores are compared by value.
  bool operator==(const Segment& other) const;

  [[nodiscard]] bool solid() const { return core == nullptr && core_diameter == 0; }
  /// True where the face exists and burns.
  [[nodiscard]] bool bare(Face face) const;
  /// How many of the two ends burn: 0, 1 or 2.
  [[nodiscard]] int bare_ends() const;
};

/// Everything wrong with a segment by itself; empty when it can be cast and burned. Where the core
/// is not plain and round this, burnout_web and state_at work out its front anew each time;
/// Burnback does so once.
[[nodiscard]] std::vector<Complaint> complaints(const Segment& segment);

/// Web at which the segment is gone: the first of core-meets-wall (or core-meets-burning-outside)
/// and ends-meet; with another core, the web of the last sliver. Unit m.
[[nodiscard]] double burnout_web(const Segment& segment);

/// The shape of one segment after `web` metres have burned. All zero at and past burnout.
struct SegmentState {
  double length = 0;          ///< m, from end to end
  double core_diameter = 0;   ///< m; of a round port of the same area where the core is another one
  double outer_diameter = 0;  ///< m
  double burning_area = 0;    ///< m2; at burnout itself, the value just before
  double volume = 0;          ///< m3 of propellant left
  double port_area = 0;       ///< m2 open to flow, at the narrowest place: the core and what the
                              ///< outer face has freed
};
[[nodiscard]] SegmentState state_at(const Segment& segment, double web);

}  // namespace grainwright
