// SPDX-License-Identifier: GPL-3.0-or-later
//
// A number with its error bar, from replicates that are independent of each other.
#pragma once

#include <array>
#include <span>
#include <vector>

namespace grainwright {

/// A value from random replicates.
struct Estimate {
  double value = 0;
  double error = 0;  ///< half width of the 95 % interval
};

/// Mean of the replicates, with Student's t for so few. One replicate alone has no error bar, 0.
[[nodiscard]] Estimate estimate_of(std::span<const double> replicates);

/// The chance that a never seen event may still have after so many trials: the upper end of
/// Wilson's 95 % interval, z^2/(n + z^2). Wilson (1927), as in Newcombe, Statistics in Medicine 17
/// (1998).
[[nodiscard]] double chance_of_the_unseen(double trials);

/// Both ends of Wilson's 95 % interval for `seen` out of `trials`.
struct Interval {
  double low = 0;
  double high = 0;
};
[[nodiscard]] Interval wilson_interval(double seen, double trials);

/// The value below which a part of the sorted values lies, straight lines between them.
[[nodiscard]] double percentile(std::span<const double> sorted, double part);

/// The same at 5, 50 and 95 % of values in any order, which it moves about.
[[nodiscard]] std::array<double, 3> told_percentiles(std::span<double> values);

}  // namespace grainwright
