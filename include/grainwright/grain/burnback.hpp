// SPDX-License-Identifier: GPL-3.0-or-later
//
// Burning area and propellant volume against web burned, exactly.
//
// Every bare face moves inward by the web x. For a segment with round core the core diameter is
// d + 2x, the outside D - 2x where it burns, and the length L - m x with m bare ends, so between
// events (a segment burns out) the stack's area is a quadratic in x, and A = -dV/dx.
// Source: closed form; the plane-front rule is NASA SP-8076 (1972), burning surface regression.
//
// At an event A jumps; here A at an event is the value just before it, so A(burnout) is the last
// area that burned and A is 0 after it.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "grainwright/grain/grain.hpp"

namespace grainwright {

/// A quadratic in the web: value = c[0] + c[1] x + c[2] x^2.
struct Quadratic {
  std::array<double, 3> c = {};
  [[nodiscard]] constexpr double operator()(double x) const { return c[0] + x * (c[1] + x * c[2]); }
};

/// A stretch of web between two events, in which one formula gives the area.
struct Stretch {
  double from = 0;      ///< m
  double to = 0;        ///< m
  Quadratic area = {};  ///< m2, of the web x itself (not of x - from)
};

/// Least and greatest area in a stretch, ends included.
struct AreaRange {
  double least = 0;
  double greatest = 0;
  double greatest_at = 0;  ///< web of the greatest area, m
};
[[nodiscard]] AreaRange area_range(const Stretch& stretch);

/// The quadratic that gives one segment's burning area until its burnout.
[[nodiscard]] Quadratic burning_area_of(const Segment& segment);

/// How a stack burns back. A value: built once from a grain, it does not change.
class Burnback {
 public:
  /// Throws InputError with the grain's complaints.
  explicit Burnback(Grain grain);

  [[nodiscard]] const Grain& grain() const { return grain_; }
  /// Webs at which a segment burns out, rising; the last one is the burnout of the stack. Unit m.
  [[nodiscard]] std::span<const double> events() const { return events_; }
  [[nodiscard]] std::span<const Stretch> stretches() const { return stretches_; }
  [[nodiscard]] double burnout() const { return events_.back(); }
  /// m2; 0 past burnout.
  [[nodiscard]] double burning_area(double web) const;
  /// m3, never below 0.
  [[nodiscard]] double propellant_volume(double web) const;
  /// Open area of each layer at this web, m2, head end first: what gas of that segment flows
  /// through. A burnt-out segment gives its full outer section.
  [[nodiscard]] std::vector<double> port_areas(double web) const;
  /// Faces of each layer that still burn at this web, head end first.
  [[nodiscard]] std::vector<Faces> burning_faces(double web) const;
  /// Distance of the propellant's centre of mass from the head end of the stack, m; 0 at burnout.
  [[nodiscard]] double centre_of_mass(double web) const;
  /// Greatest burning area over the whole burn, m2, and the web where it stands.
  [[nodiscard]] AreaRange range() const;

 private:
  Grain grain_;
  std::vector<double> events_;
  std::vector<Stretch> stretches_;
};

}  // namespace grainwright
