// SPDX-License-Identifier: GPL-3.0-or-later
//
// Any bytes are an outline that burns by the books, or are refused in words.
#include <cmath>

#include "fuzz/support.hpp"
#include "grainwright/grain/planar_front.hpp"

namespace {

using namespace grainwright;

constexpr double wall_radius = 0.02;
constexpr double millimetre = 0.001;
constexpr std::size_t most_corners_burned = 60;  // what is longer takes too long to burn each time

/// Propellant only shrinks, from the tube less the void down to nothing.
void burn(const Outline& outline) {
  const PlanarFront front(outline, wall_radius);
  const double burnout = front.burnout();
  fuzz::demand(std::isfinite(burnout) && burnout > 0 && burnout <= 2 * wall_radius, "burnout");
  const double tube = M_PI * wall_radius * wall_radius;
  double before = tube * (1 + 1e-9);
  for (int i = 0; i <= 16; ++i) {
    const double web = burnout * i / 16;
    const double section = front.section(web);
    fuzz::demand(section >= 0 && section <= before + 1e-9 * tube, "the section only shrinks");
    fuzz::demand(front.perimeter(web) >= 0, "a perimeter is not negative");
    before = section;
  }
  fuzz::demand(before <= 1e-9 * tube, "nothing is left at burnout");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  try {
    const Outline drawn = read_outline_wkt(fuzz::text_of(data, size), millimetre);
    if (drawn.corner_count() > most_corners_burned) return 0;
    const bool sound = complaints(drawn, wall_radius).empty();
    const TidyOutline tidy = tidied(drawn, wall_radius);
    fuzz::demand(sound, "what has complaints is not tidied");
    static_cast<void>(warnings(tidy.outline));
    burn(drawn);
  } catch (const InputError& error) {
    fuzz::demand(!error.complaints().empty(), "a refusal has its reason");
  }
  return 0;
}
