// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a plane through the axis shows of a core that is the same from end to end.
#pragma once

#include <utility>
#include <vector>

#include "grainwright/grain/planar_front.hpp"

namespace grainwright {

/// Heights at which strokes pass the plane x = 0, rising.
[[nodiscard]] std::vector<double> crossings_of(const std::vector<Stroke>& strokes);

/// The plane x = 0 of a void's outline in a tube of this radius, and what of it is propellant.
class CutPlane {
 public:
  CutPlane(const Outline& outline, double radius);

  /// Lengths of propellant after so much web, from below; `front` are the heights of the front.
  [[nodiscard]] std::vector<std::pair<double, double>> propellant(std::vector<double> front,
                                                                  double web) const;
  /// Heights of the void's edges.
  [[nodiscard]] const std::vector<double>& heights() const { return heights_; }
  /// Greatest where the plane shows one side unlike the other, else where it shows most propellant.
  [[nodiscard]] double telling() const;

 private:
  [[nodiscard]] bool is_propellant(double y, double web) const;

  std::vector<Stroke> edges_;
  std::vector<double> heights_;
  double radius_;
};

/// The outline turned about the axis so that the plane x = 0 tells most of it.
[[nodiscard]] Outline turned_to_show(const Outline& outline, double radius);

}  // namespace grainwright
