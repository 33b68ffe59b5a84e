// SPDX-License-Identifier: GPL-3.0-or-later
//
// What lengths, areas and volumes are of the web between two events, where that is a polynomial.
#pragma once

#include <array>
#include <cstddef>

namespace grainwright {

/// A quadratic in the web: value = c[0] + c[1] x + c[2] x^2.
struct Quadratic {
  std::array<double, 3> c = {};
  [[nodiscard]] constexpr double operator()(double x) const { return c[0] + x * (c[1] + x * c[2]); }
  /// Between two places: Simpson's rule, exact for a quadratic.
  [[nodiscard]] constexpr double integral(double from, double to) const {
    return (to - from) / 6 * ((*this)(from) + 4 * (*this)((from + to) / 2) + (*this)(to));
  }
  constexpr Quadratic& operator+=(const Quadratic& other) {
    for (std::size_t k = 0; k < c.size(); ++k) c[k] += other.c[k];
    return *this;
  }
};

[[nodiscard]] constexpr Quadratic operator*(double factor, const Quadratic& q) {
  return {{factor * q.c[0], factor * q.c[1], factor * q.c[2]}};
}

}  // namespace grainwright
