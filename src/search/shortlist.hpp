// SPDX-License-Identifier: GPL-3.0-or-later
//
// The builds worth showing: the best fit, and near it the ones that are best in another way.
#pragma once

#include <array>
#include <limits>
#include <map>
#include <vector>

#include "evaluator.hpp"
#include "lattice.hpp"

namespace grainwright {

/// A build that meets every limit, with what the shortlist compares.
struct Found {
  std::vector<Group> groups;
  std::size_t throat = 0;
  double misfit = 0;
  double impulse = 0;
  double peak_pressure = 0;
  int pours = 0;
  /// Order of discovery, for ties; the same whatever the number of threads.
  std::array<std::size_t, 3> order = {};
};

[[nodiscard]] Found found_of(std::span<const Group> groups, std::array<std::size_t, 3> order,
                             std::size_t throat, const Evaluation& evaluation);

/// The ways in which a build can be best.
enum class Virtue { best_fit, most_impulse, fewest_pours, all_alike, lowest_pressure };
inline constexpr std::array<Virtue, 5> all_virtues = {Virtue::best_fit, Virtue::most_impulse,
                                                      Virtue::fewest_pours, Virtue::all_alike,
                                                      Virtue::lowest_pressure};

/// Keeps, for each small range of misfit, the best build of each virtue, so that the shortlist can
/// be drawn up once the best misfit is known.
class Shortlist {
 public:
  void offer(const Found& found);
  /// Whether it would be kept, if offered now.
  [[nodiscard]] bool wants(std::span<const Group> groups, std::array<std::size_t, 3> order,
                           const Evaluation& evaluation) const;
  void merge(const Shortlist& other);
  [[nodiscard]] bool empty() const { return bins_.empty(); }
  /// The best fit first, then each other virtue's best among builds whose misfit is at most half as
  /// much again, or 0.02 more, as the best; each build once.
  [[nodiscard]] std::vector<std::pair<Virtue, Found>> draw_up() const;
  /// The best fits of the least misfits, at most so many: where a finer search may start.
  [[nodiscard]] std::vector<Found> best(std::size_t most) const;

 private:
  /// Over this misfit a build cannot be shown any more: a better one is known.
  [[nodiscard]] double most_shown() const;

  double best_misfit_ = std::numeric_limits<double>::infinity();
  using Bin = std::array<std::vector<Found>, all_virtues.size()>;  // each none or one
  std::map<int, Bin> bins_;
};

}  // namespace grainwright
