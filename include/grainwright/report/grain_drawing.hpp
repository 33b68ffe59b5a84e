// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a grain burns back, drawn to scale as SVG: each core's section, and the stack cut along its
// axis, with the front at equal steps of web, sizes, and what is left when the front first meets
// the wall hatched. The fronts are the exact ones of grain/, arcs as arcs. Colours are safe for
// colour-blind readers, and each thing has a line or hatch of its own, so that grey tells as much.
#pragma once

#include <string>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {

/// What to draw, and how large.
struct DrawingOptions {
  UnitSystem units = UnitSystem::si;  ///< of the sizes
  double width = 720;                 ///< of the picture, px
  int contours = 10;                  ///< fronts drawn between lighting and burnout
  std::string id = "grain";  ///< begins the ids inside; each picture on a page needs its own
};

/// A picture and its size in px, as an `<svg>` element. Texts are sizes and fixed words only, so
/// that it can stand in a page as it is.
struct Picture {
  double width = 0;
  double height = 0;
  std::string svg;
};

/// A segment's section across the axis, for a core that is the same from end to end. `step` is the
/// web from contour to contour, m. Throws InputError where the core makes no segment.
[[nodiscard]] Picture section_picture(const Segment& segment, double step,
                                      const DrawingOptions& options = {});

/// The stack cut along its axis, head end to the left.
[[nodiscard]] Picture stack_picture(const Burnback& burnback, double step,
                                    const DrawingOptions& options = {});

/// A whole SVG file: the sections of all unlike cores, the stack below them, and a key.
[[nodiscard]] std::string burnback_svg(const Burnback& burnback,
                                       const DrawingOptions& options = {});

/// The web from contour to contour that gives about so many, a round number of mm or of 1/32 in.
[[nodiscard]] double contour_step(double burnout, const DrawingOptions& options);

}  // namespace grainwright
