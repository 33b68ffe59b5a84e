// SPDX-License-Identifier: GPL-3.0-or-later
//
// One replicate of a scatter: a block of firings at one scramble of the points, boiled down to what
// the answer needs, so that memory does not grow with the number of samples.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "grainwright/scatter/scatter.hpp"
#include "grainwright/scatter/variance.hpp"
#include "holding.hpp"
#include "quick_firing.hpp"

namespace grainwright {

/// What every replicate shares.
struct ScatterGround {
  FiringGround trials;
  Inputs inputs;
  Tolerances tolerances;
  std::optional<double> ceiling;  ///< Pa
  JudgedPeaks judged = {};
  std::optional<Holding> holding;
  double bins_from = 0;  ///< Pa, of the histogram
  double bin = 0;        ///< Pa
  std::uint64_t seed = 1;
  bool may_choke = false;  ///< a port, within what tolerances and mistakes reach

  [[nodiscard]] double ambient() const { return trials.motor().day.ambient_pressure; }
};

/// So many replicates look at what each input does, which costs more than their firings.
inline constexpr std::uint64_t looking_replicates = 16;
inline constexpr std::size_t histogram_bins = 60;
inline constexpr std::size_t figure_count = 4;  // of QuickFigures

/// Chances at one load, or their mean over a block.
struct Chances {
  double over_ceiling = 0;
  double anything_gives = 0;
  std::array<double, most_parts> part_gives = {};
};

struct Replicate {
  bool made = false;
  bool looked = false;                                               ///< at what each input does
  std::array<std::array<double, 3>, figure_count> percentiles = {};  ///< 5, 50, 95 %
  double mean = 0;                                                   ///< of the peak pressure
  double square = 0;                                                 ///< mean of its square
  Chances chances;
  double port_chokes = 0;  ///< share of them
  std::array<std::uint64_t, histogram_bins> bins = {};
  VarianceSums variance;
  Chances held_base;                ///< at the points at which inputs are held
  std::vector<Chances> held;        ///< an input each
  std::vector<double> strong_base;  ///< chance that anything gives with a part's strength exact
};

/// What does not stray though the tolerances say so: a part's strength, the burn rate.
struct Exact {
  std::optional<std::size_t> part = {};
  bool burn_rate = false;
};
/// Chances of what has been taken into a trial and lasts so long; burn rate and strengths in closed
/// form.
[[nodiscard]] Chances chances_of(const ScatterGround& ground, const QuickFiring& trial,
                                 FaultSet faults, double burn_time, const Exact& exact = {});
[[nodiscard]] const Spread& strength_of(const Tolerances& tolerances, HeldPart part);

/// Draws a block of firings; the first replicates then look what each input does.
[[nodiscard]] Replicate replicate(const ScatterGround& ground, const SobolPoints& block,
                                  const SobolPoints& pairs, std::uint64_t index);

}  // namespace grainwright
