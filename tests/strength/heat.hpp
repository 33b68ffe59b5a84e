// SPDX-License-Identifier: GPL-3.0-or-later
//
// Closed forms of conduction, written down afresh for the tests.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "grainwright/strength/conduction.hpp"

namespace heat {

inline constexpr double t0 = 293.15;

inline const grainwright::Slab pvc{.conductivity = 0.16, .density = 1400, .specific_heat = 880};
inline const grainwright::Slab mortar{.conductivity = 0.72, .density = 1860, .specific_heat = 780};
inline const grainwright::Slab steel{.conductivity = 63.9, .density = 7832, .specific_heat = 434};
inline const grainwright::Slab paper{.conductivity = 0.18, .density = 930, .specific_heat = 1340};

inline grainwright::Slab thick(grainwright::Slab slab, double thickness) {
  slab.thickness = thickness;
  return slab;
}

inline double diffusivity(const grainwright::Slab& slab) {
  return slab.conductivity / (slab.density * slab.specific_heat);
}

/// exp(z^2) erfc(z), by its asymptotic series where the factors would overflow.
inline double scaled_erfc(double z) {
  if (z < 20) return std::exp(z * z) * std::erfc(z);
  const double w = 1 / (z * z);
  return (1 - w / 2 + 3 * w * w / 4 - 15 * w * w * w / 8) / (z * std::sqrt(std::numbers::pi));
}

/// Semi-infinite solid whose surface is held at a temperature (Carslaw & Jaeger 2.4).
inline double held(const grainwright::Slab& of, double surface, double depth, double time) {
  return t0 + (surface - t0) * std::erfc(depth / (2 * std::sqrt(diffusivity(of) * time)));
}

/// Semi-infinite solid that gas heats through a coefficient (Carslaw & Jaeger 2.7).
inline double heated(const grainwright::Slab& of, double gas, double coefficient, double depth,
                     double time) {
  const double root = std::sqrt(diffusivity(of) * time);
  const double e = depth / (2 * root);
  const double b = coefficient * root / of.conductivity;
  return t0 + (gas - t0) * (std::erfc(e) - std::exp(-e * e) * scaled_erfc(e + b));
}

/// The n-th root of z tan z = biot, n from 0.
inline double wall_root(double biot, int n) {
  double low = n * std::numbers::pi;
  double high = low + std::numbers::pi / 2;
  for (int i = 0; i < 200; ++i) {
    const double z = (low + high) / 2;
    (z * std::sin(z) < biot * std::cos(z) == (n % 2 == 0) ? low : high) = z;
  }
  return (low + high) / 2;
}

/// (T - Tgas)/(Tstart - Tgas) in a slab with gas at one face and the other insulated; `place` from
/// 0 at the insulated face to 1 (Carslaw & Jaeger 3.11).
inline double slab_theta(double biot, double fourier, double place) {
  double sum = 0;
  for (int n = 0; n < 200; ++n) {
    const double z = wall_root(biot, n);
    sum += 4 * std::sin(z) / (2 * z + std::sin(2 * z)) * std::cos(z * place) *
           std::exp(-z * z * fourier);
  }
  return sum;
}

/// From 0 to `end` in equal steps.
inline std::vector<double> even_times(double end, int steps) {
  std::vector<double> times;
  for (int i = 0; i <= steps; ++i) times.push_back(end * i / steps);
  return times;
}

}  // namespace heat
