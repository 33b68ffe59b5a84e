// SPDX-License-Identifier: GPL-3.0-or-later
//
// The even length: the segment whose burning area at burnout equals that at lighting.
// Closed form: (3D + d)/2 with both ends bare, (3D + d)/4 with one. Equal ends are not a flat burn:
// between them the area humps by 1 + 3 (D - d)^2 / (4 (D^2 + 3 D d)).
#pragma once

namespace grainwright {

/// A stack of equal, evenly burning segments.
struct EvenStack {
  int segments = 1;
  double length = 0;        ///< of one segment, m
  double total_length = 0;  ///< with spacers between segments, m
  double hump = 1;          ///< peak / start of burning area
};

/// Outer diameter and core in m, 0 <= core < outer; bare ends 1 or 2; at least one segment; spacer
/// in m. Throws InputError otherwise: with no bare end no length burns evenly.
[[nodiscard]] EvenStack even_stack(double outer_diameter, double core_diameter, int segments,
                                   int bare_ends = 2, double spacer = 0);

}  // namespace grainwright
