// SPDX-License-Identifier: GPL-3.0-or-later
//
// Burning area and propellant volume against web burned, exactly.
//
// Every bare face moves inward by the web x. For a segment with round core the core diameter is
// d + 2x, the outside D - 2x where it burns, and the length L - m x with m bare ends, so between
// events (a segment burns out) the stack's area is a quadratic in x, and A = -dV/dx.
// Source: closed form; the plane-front rule is NASA SP-8076 (1972), burning surface regression.
//
// Other cores (core.hpp) have exact areas of their own, in closed form but not always quadratic.
// Where they are not, the stretches hold quadratics that burn exactly what the front does, in
// pieces so fine, and graded toward the events, that integrals over the web of the area and of
// smooth functions of it (burn time, impulse) are good to 1e-10. Areas, volumes and events that are
// asked for by web are exact.
//
// At an event A jumps; here A at an event is the value just before it, so A(burnout) is the last
// area that burned and A is 0 after it.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "grainwright/grain/grain.hpp"
#include "grainwright/grain/quadratic.hpp"

namespace grainwright {

/// A stretch of web in which one formula gives the area: between two events, or a piece of that.
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

/// The quadratic that gives the burning area of a segment with plain round core until its burnout.
[[nodiscard]] Quadratic burning_area_of(const Segment& segment);

/// What is left of the propellant when only slivers are: then nobody asks for an even burn.
inline constexpr double sliver_share = 0.01;

class SegmentFront;
struct BentBurn;

/// How a stack burns back. A value: built once from a grain, it does not change.
class Burnback {
 public:
  /// Throws InputError with the grain's complaints.
  explicit Burnback(Grain grain);

  [[nodiscard]] const Grain& grain() const { return grain_; }
  /// Webs at which a segment burns out or the area jumps, rising; the last one is the burnout of
  /// the stack. Unit m.
  [[nodiscard]] std::span<const double> events() const { return events_; }
  /// Without a gap from lighting to burnout.
  [[nodiscard]] std::span<const Stretch> stretches() const { return stretches_; }
  /// Web at which the last of the stack is gone, m.
  [[nodiscard]] double burnout() const { return events_.back(); }
  /// Web at which each layer burns out, m, head end first.
  [[nodiscard]] std::vector<double> burnouts() const;
  /// Each layer's segments (one of them) at this web, head end first.
  [[nodiscard]] std::vector<SegmentState> states(double web) const;
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
  /// With turned cores by quadrature, good to 1e-6 of the length.
  [[nodiscard]] double centre_of_mass(double web) const;
  /// Greatest burning area over the whole burn, m2, and the web where it stands; and the least
  /// until only slivers are left, whose area tends to 0.
  [[nodiscard]] AreaRange range() const { return range_; }
  /// Web from which only slivers are left, m: `sliver_share` of the propellant, where the area then
  /// falls to nothing. Burnout where it does not, as with plain round cores.
  [[nodiscard]] double slivers_from() const { return slivers_from_; }

 private:
  [[nodiscard]] double web_of_slivers() const;
  void add_stretch(double from, double to);
  [[nodiscard]] BentBurn bent_burn() const;
  void set_range();
  void add_jumps();

  Grain grain_;
  std::vector<std::shared_ptr<const SegmentFront>> fronts_;  // one a layer
  bool plain_ = true;                                        // every core is plain and round
  double slivers_from_ = 0;
  AreaRange range_;
  std::vector<double> events_;
  std::vector<Stretch> stretches_;
};

}  // namespace grainwright
