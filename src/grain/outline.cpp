// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/outline.hpp"

#include <algorithm>

#include "ring.hpp"

namespace grainwright {
namespace {

template <typename Map>
Outline mapped(Outline outline, Map map) {
  for (Region& region : outline.voids) {
    map(region.outer);
    for (Ring& hole : region.holes) map(hole);
  }
  return outline;
}

}  // namespace

std::size_t Outline::corner_count() const {
  std::size_t count = 0;
  for (const Region& region : voids) {
    count += region.outer.size();
    for (const Ring& hole : region.holes) count += hole.size();
  }
  return count;
}

double area_of(const Outline& outline) {
  double sum = 0;
  for (const Region& region : outline.voids) {
    sum += signed_area(region.outer);
    for (const Ring& hole : region.holes) sum += signed_area(hole);
  }
  return sum;
}

Outline rotated(const Outline& outline, double angle) {
  Point e = unit(angle);
  return mapped(outline, [&](Ring& ring) {
    for (Corner& corner : ring) {
      Point p = corner.at;
      corner.at = {e.x * p.x - e.y * p.y, e.y * p.x + e.x * p.y};
    }
  });
}

// Read backward, so that rings keep their sense: each edge then leaves its former end.
Outline mirrored(const Outline& outline) {
  return mapped(outline, [](Ring& ring) {
    reverse_ring(ring);
    for (Corner& corner : ring) corner = {{-corner.at.x, corner.at.y}, -corner.turn};
  });
}

Outline scaled(const Outline& outline, double factor) {
  return mapped(outline, [&](Ring& ring) {
    for (Corner& corner : ring) corner.at = factor * corner.at;
  });
}

std::vector<std::string> warnings(const Outline& outline) {
  std::size_t islands = 0;
  for (const Region& region : outline.voids) islands += region.holes.size();
  if (islands == 0) return {};
  return {(islands == 1 ? "an island of propellant stands"
                        : std::to_string(islands) + " islands of propellant stand") +
          std::string(" free of the wall: nothing holds it, and a loose piece can block the throat;"
                      " join it to the wall by a rib")};
}

}  // namespace grainwright
