// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is asked of a search: a thrust profile, bounds on figures, limits that keep people whole,
// and the tooling that the builder owns.
#pragma once

#include <limits>
#include <span>
#include <vector>

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

/// A figure's allowed range.
struct Bound {
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
  /// Whether a value is allowed.
  [[nodiscard]] bool holds(double value) const { return value >= least && value <= most; }
  /// Whether anything is asked at all.
  [[nodiscard]] bool set() const;
  bool operator==(const Bound&) const = default;
};

/// What a build is judged by.
struct Wish {
  Profile profile = Profile::flat();
  /// In place of a profile: the most total impulse that meets every limit and bound, the rail speed
  /// among them.
  bool for_the_rail = false;
  double loading = 0;    ///< propellant volume / grain-room volume at the grain's outer diameter
  Bound burn_time;       ///< s
  Bound total_impulse;   ///< N s
  Bound initial_thrust;  ///< N
  Bound mean_thrust;     ///< N
  Bound peak_thrust;     ///< N
  // Of the flight, which needs an airframe.
  Bound rail_speed;        ///< m/s, as the last guide leaves the rail
  Bound thrust_to_weight;  ///< at first motion
  Bound apogee;            ///< m, above the launch

  /// Whether it can be judged only with an airframe.
  [[nodiscard]] bool asks_flight() const {
    return rail_speed.set() || thrust_to_weight.set() || apogee.set();
  }
};

/// What a build must keep, whatever is wished.
struct Limits {
  double pressure = std::numeric_limits<double>::infinity();  ///< Pa, ceiling on the peak
  double confidence = 0;      ///< part of all motors that must keep the ceiling; 0: not asked
  double pressure_floor = 0;  ///< Pa, while anything burns
  double port_to_throat = 0;  ///< at lighting, at least
  double mass_flux = std::numeric_limits<double>::infinity();  ///< kg/(m2 s), at most
};

/// What the builder owns and how they cut.
struct Shop {
  std::vector<double> mandrels;  ///< core diameters, m
  std::vector<double> throats;   ///< m
  /// Cores of other rods, the same from end to end; taken in the one size that they have.
  std::vector<Core> cores = {};
  double length_step = 0;        ///< m, the saw's step; 0 where lengths are free
  double spacer = 0;             ///< m, between neighbours
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
