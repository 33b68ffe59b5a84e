// SPDX-License-Identifier: GPL-3.0-or-later
//
// A shell as a list of parts that are all judged alike: a column of layers from the gas inward, and
// modes that lose strength with the temperature of a stretch of it.
#pragma once

#include <string>
#include <vector>

#include "grainwright/strength/conduction.hpp"
#include "grainwright/strength/margins.hpp"

namespace grainwright {

enum class PartLoad { pressure, head, nozzle };

struct Part {
  std::string name;
  PartLoad load = PartLoad::pressure;
  double sealed_area = 0;             ///< m2, of closures
  std::vector<Slab> column = {};      ///< front first
  double own_depth = 0;               ///< m, where the part itself begins under its protection
  std::vector<JointMode> modes = {};  ///< depths from the part's own hot side
  std::optional<double> coefficient = {};
  bool bare_from_lighting = true;  ///< else from the first burn-through of the web
};

/// The pipe stands there twice where ends burn: under the grain the gas reaches its liner when the
/// web has burned through, at a bare end from lighting on. Temperature at lighting in K.
[[nodiscard]] std::vector<Part> parts_of(const Shell& shell, bool bare_ends, double temperature);

/// Ways in which a tube gives, Pa.
[[nodiscard]] std::vector<JointMode> tube_modes(const Tube& tube, const Material& material);

}  // namespace grainwright
