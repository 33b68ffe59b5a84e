// SPDX-License-Identifier: GPL-3.0-or-later
//
// Best lengths of one structure in one throat: least misfit under the task's limits, lengths free.
#pragma once

#include <vector>

#include "evaluator.hpp"
#include "structures.hpp"

namespace grainwright {

struct SolvedLengths {
  std::vector<double> lengths;  ///< one an open length, m
  double misfit = 0;
  double excess = 0;  ///< largest relative break of a limit; 0 where all hold
};

enum class Solver {
  slsqp,   ///< smooth, with difference quotients for slopes: fast
  cobyla,  ///< slower, needs no slopes: for polishing where formulas change over
};

/// Starts from the given lengths. Never fails: returns the best point it has seen.
[[nodiscard]] SolvedLengths solve_lengths(const StockedTask& task, const Structure& structure,
                                          const ShopThroat& throat, std::vector<double> start,
                                          Solver solver, Evaluator& evaluator);

/// The groups of a structure at given lengths.
[[nodiscard]] std::vector<Group> groups_of(const StockedTask& task, const Structure& structure,
                                           const std::vector<double>& lengths);

/// By how much, relative to itself, a limit is broken; 0 where it holds.
[[nodiscard]] double excess_of(const SetLimit& row, const LimitedFigures& figures);

}  // namespace grainwright
