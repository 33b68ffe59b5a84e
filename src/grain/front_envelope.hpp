// SPDX-License-Identifier: GPL-3.0-or-later
//
// The lower envelope of the ceilings over one site: how far each of its normals burns.
#pragma once

#include <span>
#include <vector>

#include "front_site.hpp"

namespace grainwright::front {

/// One ceiling over a stretch of the site.
struct Cover {
  Range range;
  Ceiling ceiling;
};

class Envelope {
 public:
  /// `open_height` bounds the height where no ceiling is; `scale` is the figure's size.
  Envelope(const Site& site, double open_height, double scale);

  /// Keeps the lower of this ceiling and what is there, over the range.
  void lower(const Ceiling& ceiling, Range range);

  /// Upper bound of the height over the whole site.
  [[nodiscard]] double highest() const { return highest_; }
  [[nodiscard]] std::span<const Cover> covers() const { return covers_; }

 private:
  void keep(Range range, const Ceiling& ceiling);
  [[nodiscard]] bool under(const Ceiling& a, const Ceiling& b, double s) const;
  [[nodiscard]] Roots crossings(const Ceiling& a, const Ceiling& b) const;
  [[nodiscard]] double highest_of(const Cover& cover) const;
  bool split(const Cover& old, const Ceiling& ceiling, Range range);

  const Site* site_;
  double open_height_;
  double highest_;
  double equal_;
  double shortest_;
  std::vector<Cover> covers_;
  std::vector<Cover> next_;
};

/// Cuts the covers at the wall, a circle of this radius about the origin: what lies past it, and
/// what has no ceiling, gets Roof::wall. A shrinking arc with no ceiling gets Roof::centre.
[[nodiscard]] std::vector<Cover> cut_at_wall(const Site& site, std::span<const Cover> covers,
                                             double wall_radius);

/// Height at which the normal at s meets the wall.
[[nodiscard]] double wall_height(const Site& site, double wall_radius, double s);

}  // namespace grainwright::front
