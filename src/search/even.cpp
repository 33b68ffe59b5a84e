// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/search/even.hpp"

#include <cmath>
#include <string>

#include "grainwright/error.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

std::string shown(double metres) {
  return show_length(metres, UnitSystem::si);
}

std::vector<Complaint> complaints(double outer, double core, int segments, int bare_ends,
                                  double spacer) {
  std::vector<Complaint> found;
  const bool sound_outer = std::isfinite(outer) && outer > 0;
  if (!sound_outer) found.push_back({"outer_diameter", shown(outer), "a diameter above zero"});
  if (!std::isfinite(core) || core < 0) {
    found.push_back({"core", shown(core), "a diameter, or 0 for a solid segment"});
  } else if (sound_outer && core >= outer) {
    found.push_back(
        {"core", shown(core), "narrower than the segment's outer diameter of " + shown(outer)});
  }
  if (segments < 1) found.push_back({"segments", std::to_string(segments), "1 or more"});
  if (bare_ends != 1 && bare_ends != 2) {
    found.push_back({"bare_ends", std::to_string(bare_ends),
                     "1 or 2; with both ends inhibited no length burns evenly"});
  }
  if (!std::isfinite(spacer) || spacer < 0) {
    found.push_back({"spacer", shown(spacer), "a length of zero or more"});
  }
  return found;
}

}  // namespace

EvenStack even_stack(double outer_diameter, double core_diameter, int segments, int bare_ends,
                     double spacer) {
  auto found = complaints(outer_diameter, core_diameter, segments, bare_ends, spacer);
  if (!found.empty()) throw InputError(std::move(found));
  const double D = outer_diameter;
  const double d = core_diameter;
  EvenStack stack;
  stack.segments = segments;
  // An inhibited end is the mirror plane of a segment twice as long with both ends bare.
  stack.length = bare_ends * (3 * D + d) / 4;
  stack.total_length = segments * stack.length + (segments - 1) * spacer;
  stack.hump = 1 + 3 * (D - d) * (D - d) / (4 * (D * D + 3 * D * d));
  return stack;
}

}  // namespace grainwright
