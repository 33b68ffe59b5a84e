// SPDX-License-Identifier: GPL-3.0-or-later
//
// The limits and bounds of a task, from the one table of limits: what is judged here decides what
// is allowed, and, when nothing is, which limit stands in the way.
#pragma once

#include <vector>

#include "grainwright/search/search.hpp"

namespace grainwright {

/// A row of the table as this task has it.
struct SetLimit {
  const LimitRow* row = nullptr;
  Bound bound;  ///< with room for rounding
  Bound asked;  ///< as the job has it; not set where the program adds the limit

  [[nodiscard]] LimitCost cost() const { return row->cost; }
  [[nodiscard]] double value(const LimitedFigures& figures) const { return figures.*(row->value); }
  [[nodiscard]] bool holds(const LimitedFigures& figures) const {
    return bound.holds(value(figures));
  }
};

/// The limits that are set, the cheap ones first.
[[nodiscard]] std::vector<SetLimit> set_limits(const SearchTask& task);

}  // namespace grainwright
