// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which input carries how much of the variance of an answer: Sobol's indices, by exchanging one
// input at a time between two sets of points. First-order index: Saltelli et al., Variance based
// sensitivity analysis of model output, Computer Physics Communications 181 (2010), table 2 (b);
// total index: Jansen, Computer Physics Communications 117 (1999), as table 2 (f) there.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "grainwright/scatter/points.hpp"

namespace grainwright {

/// Neighbouring dimensions of the unit cube that are one input together.
struct InputGroup {
  std::size_t first = 0;
  std::size_t size = 1;
};

/// Sums of one replicate, from which the indices follow; those of several replicates add up.
struct VarianceSums {
  double mean = 0;
  double variance = 0;
  std::vector<double> alone;  ///< a group each: variance of the answer's mean given this input
  std::vector<double> total;  ///< variance that would be left if all other inputs were known

  /// Share of the variance, 0 to 1 but for the noise of sampling.
  [[nodiscard]] double first_order(std::size_t group) const { return alone[group] / variance; }
  [[nodiscard]] double total_order(std::size_t group) const { return total[group] / variance; }
};

/// `points` has twice as many dimensions as the cube: one half for each of the two sets. `prepare`
/// turns a point into what is asked of `answer`, each coordinate for itself: done before inputs are
/// exchanged, it is done once a point.
[[nodiscard]] VarianceSums variance_sums(
    const std::function<double(std::span<const double>)>& answer,
    std::span<const InputGroup> groups, const SobolPoints& points, const Scramble& scramble,
    const std::function<void(std::span<double>)>& prepare = [](std::span<double>) {});

}  // namespace grainwright
