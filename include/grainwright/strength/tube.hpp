// SPDX-License-Identifier: GPL-3.0-or-later
//
// A round tube with closed ends under inside pressure. Pressures here are above ambient. Sources
// beside each formula; docs/strength.md compares them.
#pragma once

namespace grainwright {

/// A round tube.
struct Tube {
  double outer_diameter = 0;  ///< m
  double wall = 0;            ///< m, the least
  bool operator==(const Tube&) const = default;
  /// m.
  [[nodiscard]] double inner_radius() const { return outer_diameter / 2 - wall; }
  [[nodiscard]] double outer_radius() const { return outer_diameter / 2; }
};

/// Pressure at which the mean hoop stress is `stress`: P = 2 S t/(D - t), ASTM D1785's formula for
/// ratings and for the short-time burst. Pa.
[[nodiscard]] double hoop_pressure(const Tube& tube, double stress);

/// Stresses at one place in a wall, Pa, tension positive.
struct WallStress {
  double hoop = 0;
  double radial = 0;
  double axial = 0;
  /// Equivalent stress that is compared with the yield strength, Pa.
  [[nodiscard]] double von_mises() const;
  /// Greatest difference of two principal stresses, Pa.
  [[nodiscard]] double tresca() const;
};
/// Elastic stresses in a thick wall with closed ends at a radius inside it (Lame; Roark's Formulas
/// for Stress and Strain, thick-walled vessels). Radii in m, pressures in Pa.
[[nodiscard]] WallStress lame(double inner_radius, double outer_radius, double inner_pressure,
                              double outer_pressure, double radius);

/// Pressure at which the bore begins to yield by von Mises: Y (1 - (ri/ro)^2)/sqrt(3). Pa.
[[nodiscard]] double bore_yield_pressure(const Tube& tube, double yield);
/// Pressure at which the whole wall yields: 2/sqrt(3) Y ln(ro/ri). Pa.
[[nodiscard]] double wall_yield_pressure(const Tube& tube, double yield);
/// Burst of a ductile tube: the lesser of `hoop_pressure` at the tensile strength and Faupel's
/// 2/sqrt(3) Y (2 - Y/U) ln(ro/ri) (from memory: Faupel, Transactions of the ASME 78, 1956). Pa.
[[nodiscard]] double faupel_pressure(const Tube& tube, double yield, double ultimate);
[[nodiscard]] double ductile_burst_pressure(const Tube& tube, double yield, double ultimate);

}  // namespace grainwright
