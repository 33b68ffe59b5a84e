// SPDX-License-Identifier: GPL-3.0-or-later
//
// Cutting pieces from stock tubes with the fewest tubes, exactly. n pieces fit one tube when their
// lengths and n - 1 kerfs do: the last end needs no cut.
#pragma once

#include <vector>

namespace grainwright {

/// Which pieces to cut from which stock tube.
struct SawPlan {
  /// One entry a stock tube: indices into the given pieces, longest first.
  std::vector<std::vector<std::size_t>> tubes;
  double left_over = 0;  ///< m, of all tubes together, kerfs already taken off
  bool proven = true;    ///< no plan with fewer tubes exists
};

/// Lengths, stock and kerf in m, rounded to a nanometre so that equality is exact. Throws
/// InputError for a piece longer than the stock, a length that is not positive and finite or is
/// above 1 km, or more than 1000 pieces. Thirty pieces take milliseconds; a search that has not
/// ended after a fixed amount of work, about a second, is given up with the best plan so far, and
/// `proven` is false.
[[nodiscard]] SawPlan saw_plan(const std::vector<double>& pieces, double stock, double kerf);

}  // namespace grainwright
