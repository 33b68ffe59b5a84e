// SPDX-License-Identifier: GPL-3.0-or-later
//
// Heat into a wall of several layers: one-dimensional transient conduction, gas on the front face,
// the back insulated, perfect contact between layers, properties constant.
// Carslaw & Jaeger, Conduction of Heat in Solids, has the closed forms that the tests hold it to.
//
// Method: finite volumes on cells that grow away from each layer's hot side, the conductances of
// neighbours in series; Crank-Nicolson, begun with four backward-Euler quarter steps wherever the
// gas side jumps, so that the jump does not ring (Rannacher, Numerische Mathematik 43, 1984: from
// memory). Second order in cell and step; the tests measure it. See docs/strength.md.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace grainwright {

/// One layer of a wall, front first.
struct Slab {
  double thickness = 0;      ///< m
  double conductivity = 0;   ///< W/(m K)
  double density = 0;        ///< kg/m3
  double specific_heat = 0;  ///< J/(kg K)
  double start = 293.15;     ///< K, at time 0
};

/// The gas at the front face: its temperature, and its heat transfer coefficient over time,
/// straight lines between points. Two points at one time are a jump. After the last point the last
/// value holds; with a coefficient of 0 the face is insulated.
struct GasSide {
  /// The coefficient at one moment.
  struct Point {
    double time = 0;         ///< s
    double coefficient = 0;  ///< W/(m2 K)
  };
  double temperature = 0;  ///< K
  std::vector<Point> points = {};

  /// K and W/(m2 K), from time 0 on.
  [[nodiscard]] static GasSide steady(double temperature, double coefficient) {
    return {temperature, {{0, coefficient}}};
  }
  /// Coefficient just after a time, and just before it.
  [[nodiscard]] double after(double time) const;
  [[nodiscard]] double before(double time) const;
};

/// How finely to cut depth and time.
struct ConductionOptions {
  double first_cell = 10e-6;  ///< m, at most, at the hot side of each layer
  double growth = 1.02;       ///< of a cell over the one before it; 1 for equal cells
  int steps_between = 1;      ///< time steps from one asked time to the next, at least
  double longest_step = 1;    ///< s
};

/// Temperatures of a wall at the asked times.
class HeatRun {
 public:
  /// Middles and edges of the cells, m; for each time in s the temperatures of all cells, K.
  HeatRun(std::vector<double> depths, std::vector<double> edges, std::vector<double> times,
          std::vector<std::vector<double>> temperatures);

  /// s, as they were asked for.
  [[nodiscard]] std::span<const double> times() const { return times_; }
  /// K at a depth in m below the front face; `at` counts the times.
  [[nodiscard]] double temperature(std::size_t at, double depth) const;
  /// K, of the first and of the last cell.
  [[nodiscard]] double front(std::size_t at) const { return temperatures_[at].front(); }
  [[nodiscard]] double back(std::size_t at) const { return temperatures_[at].back(); }

  /// Mean of share(temperature) from one depth to another; at the place itself where they are
  /// equal.
  template <class Share>
  [[nodiscard]] double mean(std::size_t at, double from, double to, Share&& share) const;

 private:
  std::vector<double> depths_;  // front face, cell middles with the layers' borders, back face
  std::vector<double> edges_;   // of cells
  std::vector<double> times_;
  std::vector<std::vector<double>> temperatures_;  // [time][depth]
};

/// Times must rise (equal neighbours are allowed) from 0 on; thicknesses and properties above zero.
/// Throws InputError otherwise.
[[nodiscard]] HeatRun conduct(std::span<const Slab> wall, const GasSide& gas,
                              std::span<const double> times, const ConductionOptions& options = {});

template <class Share>
double HeatRun::mean(std::size_t at, double from, double to, Share&& share) const {
  if (to <= from) return share(temperature(at, from));
  double sum = 0;
  for (std::size_t i = 0; i + 1 < edges_.size(); ++i) {
    const double left = edges_[i] > from ? edges_[i] : from;
    const double right = edges_[i + 1] < to ? edges_[i + 1] : to;
    if (right > left) sum += (right - left) * share(temperature(at, (left + right) / 2));
  }
  return sum / (to - from);
}

}  // namespace grainwright
