// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is asked of a search: a thrust profile, bounds on figures, and the tooling that the builder
// owns. Limits that keep people whole are assessment/limits.hpp's.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "grainwright/assessment/limits.hpp"
#include "grainwright/error.hpp"
#include "grainwright/grain/core.hpp"

namespace grainwright {

/// A thrust profile asked for: relative thrust over the fraction of burn time, straight lines
/// between points, with unit mean.
class Profile {
 public:
  struct Point {
    double fraction = 0;  ///< of burn time, 0 to 1
    double thrust = 0;    ///< relative
    bool operator==(const Point&) const = default;
  };

  /// 1 all along.
  [[nodiscard]] static Profile flat();
  /// A straight line from `lead` at lighting to 2 - lead at burnout; 1 < lead <= 2.
  [[nodiscard]] static Profile front_loaded(double lead);
  /// Through the given points, scaled to unit mean. Fractions rise from 0 to 1, thrusts are not
  /// negative and not all zero; else InputError. Two points at one fraction make a step.
  [[nodiscard]] static Profile through(std::vector<Point> points);

  [[nodiscard]] std::span<const Point> points() const { return points_; }
  /// At a fraction of burn time, clamped to 0..1.
  [[nodiscard]] double operator()(double fraction) const;
  /// Mean of its square over the burn.
  [[nodiscard]] double mean_square() const;
  /// True when it is one straight line.
  [[nodiscard]] bool straight() const { return points_.size() == 2; }
  bool operator==(const Profile&) const = default;

 private:
  explicit Profile(std::vector<Point> points);
  std::vector<Point> points_;
};

/// What a build is judged by: a profile, and bounds on its figures.
struct Wish : Bounds {
  Profile profile = Profile::flat();
  /// In place of a profile: the most total impulse that meets every limit and bound, the rail speed
  /// among them.
  bool for_the_rail = false;
};

/// What the builder owns and how they cut.
struct Shop {
  std::vector<double> mandrels;  ///< core diameters, m
  std::vector<double> throats;   ///< m
  /// Cores of other rods, the same from end to end; taken in the one size that they have.
  std::vector<Core> cores = {};
  double length_step = 0;  ///< m, the saw's step; 0 where lengths are free
  double spacer = 0;       ///< m, between neighbours
  int most_segments = 6;
  int most_kinds = 2;           ///< different segments in one build
  double shortest_segment = 0;  ///< m
  double longest_segment = std::numeric_limits<double>::infinity();
  std::vector<int> bare_ends = {0, 1, 2};  ///< allowed numbers of bare ends
  double kerf = 0;                         ///< m
  double tube_stock = 0;                   ///< m, length of bought casting tube; 0 where unknown
  double waste = 0;                        ///< propellant left in the pot, fraction of the batch
  double length_tolerance = 0;             ///< m, plus or minus
  double density_tolerance = 0.02;         ///< fraction of cast density, plus or minus
  double mandrel_grip = 0;                 ///< m of rod beyond each end of the segment
};

}  // namespace grainwright
