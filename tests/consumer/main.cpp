// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <grainwright/grain/burnback.hpp>
#include <grainwright/job/job.hpp>

// Both ends bare and L = (3 D + d) / 2: the area at burnout is the area at lighting.
int main() {
  const grainwright::Segment segment{
      .length = 0.085, .outer_diameter = 0.050, .core_diameter = 0.020};
  const grainwright::Burnback burnback({.layers = {{.segment = segment, .count = 3}}});
  const double start = burnback.burning_area(0);
  const double end = burnback.burning_area(burnback.burnout());
  const bool even = std::abs(end - start) < 1e-12 * start;
  return even && grainwright::shipped_propellant("kn-sorbitol") ? 0 : 1;
}
