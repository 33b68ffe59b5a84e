// SPDX-License-Identifier: GPL-3.0-or-later
//
// Burn rate against pressure: r = rate (P / at)^n in one or more pieces over pressure.
// Source of the form: Sutton & Biblarz, Rocket Propulsion Elements, chapter on solid propellants
// (St Robert's or Vieille's law). Pressures are absolute.
//
// In a steady motor P/r(P) = density c* Kn, called the *load* here. P/r rises within a piece (n <
// 1), so the load chooses one pressure there. Published pieces do not quite meet: where the rate
// jumps up at a joint two pressures balance, where it jumps down none does. The rule: the lower
// pressure, and the joint itself where there is none. Outside the published range the outermost
// piece goes on.
#pragma once

#include <limits>
#include <span>
#include <string>
#include <vector>

#include "grainwright/error.hpp"

namespace grainwright {

/// One piece of a burn law.
struct LawPiece {
  double rate = 0;                                      ///< m/s at the pressure `at`
  double at = 1e6;                                      ///< Pa
  double exponent = 0;                                  ///< n < 1, or the motor would be unstable
  double from = 0;                                      ///< Pa, lower end of validity
  double to = std::numeric_limits<double>::infinity();  ///< Pa, upper end

  bool operator==(const LawPiece&) const = default;
  /// m/s at a pressure in Pa, inside or outside the piece's range.
  [[nodiscard]] double operator()(double pressure) const;
};

/// What is wrong with a set of pieces: n >= 1, no rate, gaps or overlaps between ranges.
[[nodiscard]] std::vector<Complaint> complaints(const std::vector<LawPiece>& pieces);

/// A burn law in pieces over pressure; see the top of this file.
class BurnLaw {
 public:
  /// Pieces in rising order of pressure. Throws InputError with `complaints(pieces)`.
  explicit BurnLaw(std::vector<LawPiece> pieces);

  [[nodiscard]] std::span<const LawPiece> pieces() const { return pieces_; }
  /// m/s at a pressure in Pa; at a joint, the lower piece.
  [[nodiscard]] double rate(double pressure) const;
  /// The pressure at which P/r(P) equals `load` (Pa s/m), by the rule above.
  [[nodiscard]] double pressure(double load) const;
  /// The same law with every rate multiplied, as a warm grain or a quick batch would have it.
  [[nodiscard]] BurnLaw times(double factor) const;
  /// Joints where the rate jumps by more than 5 %, in words; usually empty.
  [[nodiscard]] std::vector<std::string> warnings() const;
  /// Range that the pieces were published for, Pa.
  [[nodiscard]] double lowest() const { return pieces_.front().from; }
  [[nodiscard]] double highest() const { return pieces_.back().to; }

  /// One band of load in which a single formula gives the pressure.
  struct Band {
    double from = 0;            ///< load, Pa s/m
    double to = 0;              ///< load
    double exponent = 0;        ///< P = scale * load^(1/(1-n)); at a joint the exponent is not used
    double scale = 0;           ///< P at a load of 1
    double joint_pressure = 0;  ///< Pa where the band is a joint, else 0
  };
  /// Rising, without gaps, from 0 to infinity.
  [[nodiscard]] std::span<const Band> bands() const { return bands_; }

 private:
  std::vector<LawPiece> pieces_;
  std::vector<Band> bands_;
};

}  // namespace grainwright
