// SPDX-License-Identifier: GPL-3.0-or-later
//
// How one segment burns back, whatever its core: the round ones in closed form, off-centre and
// drawn ones as a planar front swept along the axis, turned ones as a body of revolution.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "grainwright/grain/grain.hpp"
#include "grainwright/grain/planar_front.hpp"
#include "grainwright/grain/quadratic.hpp"

namespace grainwright {

class SegmentFront {
 public:
  SegmentFront() = default;
  SegmentFront(const SegmentFront&) = delete;
  SegmentFront& operator=(const SegmentFront&) = delete;
  virtual ~SegmentFront() = default;

  /// Webs where the formula of the area changes, rising, burnout last.
  [[nodiscard]] const std::vector<double>& events() const { return events_; }
  [[nodiscard]] double burnout() const { return events_.back(); }
  /// m2; at an event the value just before, 0 past burnout.
  [[nodiscard]] virtual double area(double web) const = 0;
  /// area() from the event before this web to the one at or after it, where it is a quadratic.
  [[nodiscard]] virtual std::optional<Quadratic> formula(double web) const = 0;
  /// m3
  [[nodiscard]] virtual double volume(double web) const = 0;
  [[nodiscard]] virtual SegmentState state(double web) const = 0;
  /// Distance of the centre of mass from the segment's head end before lighting, m.
  [[nodiscard]] virtual double centre(double web) const = 0;

 protected:
  std::vector<double> events_;
};

using SharedFront = std::shared_ptr<const SegmentFront>;

/// Throws InputError where the core makes no segment.
[[nodiscard]] SharedFront front_of(const Segment& segment);

/// The plane of a segment whose core is the same from end to end and not plain and round; made once
/// for each core and wall.
[[nodiscard]] PlanarFront planar_front_of(const Segment& segment);

/// What is wrong with a core that is not plain, in a segment whose length and diameter are sound.
/// Only its front tells, which is dear: where nothing is wrong it is handed out.
[[nodiscard]] std::vector<Complaint> core_complaints(const Segment& segment, SharedFront& front);

/// complaints(), with the fronts that were made on the way; null where a core is plain and round.
[[nodiscard]] std::vector<Complaint> complaints(const Segment& segment, SharedFront& front);
[[nodiscard]] std::vector<Complaint> complaints(const Grain& grain,
                                                std::vector<SharedFront>& fronts);

}  // namespace grainwright
