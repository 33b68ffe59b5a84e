// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where the parts of a drawn motor lie. Along the axis z counts from the head end of the stack, r
// from the axis, both in m; the drawing has the head end on the left.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "grainwright/report/motor_drawing.hpp"

namespace grainwright::drawing {

struct Spot {
  double z = 0;
  double r = 0;
};

struct Layout {
  double bore = 0;        ///< radius
  double outside = 0;     ///< radius of the pipe; of the grain where there is no pipe
  double head = 0;        ///< of the head closure and what protects it, along the axis
  double room = 0;        ///< from the head end of the stack to the nozzle
  double throat_at = 0;   ///< z
  double seat_end = 0;    ///< z, of the pipe
  double nozzle_end = 0;  ///< z
  double unit = 1;        ///< a metre in units of the drawing
  double left = 0;        ///< of the head end of the stack, in units of the drawing
  double axis = 0;        ///< likewise

  [[nodiscard]] double x(double z) const { return left + unit * z; }
  [[nodiscard]] double y(double r) const { return axis - unit * r; }
};

inline constexpr double width = 960;  ///< of every drawing, in its own units

[[nodiscard]] Layout layout_of(const MotorParts& parts);

/// Path data of a closed shape and its mirror image below the axis.
[[nodiscard]] std::string mirrored(const Layout& layout, const std::vector<Spot>& spots);
/// The same of an open line.
[[nodiscard]] std::string mirrored_line(const Layout& layout, const std::vector<Spot>& spots);

/// <path class="name" d="data"/>
[[nodiscard]] std::string path(std::string_view name, const std::string& data);

/// Pipe, closures, protection, joints and nozzle.
[[nodiscard]] std::string shell_svg(const MotorParts& parts, const Layout& layout);

/// Where each segment begins, head end first, one entry a piece; and its piece.
struct Placed {
  double z = 0;
  const Segment* segment = nullptr;
};
[[nodiscard]] std::vector<Placed> placed(const Grain& grain);

}  // namespace grainwright::drawing
