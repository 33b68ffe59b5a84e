// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/estimate.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace grainwright {
namespace {

// Two-sided 95 % of a normal distribution.
constexpr double z95 = 1.959963984540054;

constexpr std::array told_parts = {0.05, 0.5, 0.95};

/// Where a percentile stands among so many values in rising order: between one and the next.
struct Place {
  std::size_t below = 0;
  double on = 0;  // from it to the next
};
Place place_of(double part, std::size_t count) {
  const double last = static_cast<double>(count - 1);
  const double place = std::clamp(part * static_cast<double>(count) - 0.5, 0.0, last);
  const auto below = static_cast<std::size_t>(place);
  return {below, place - static_cast<double>(below)};
}

}  // namespace

Estimate estimate_of(std::span<const double> replicates) {
  const double n = static_cast<double>(replicates.size());
  Estimate estimate;
  for (double value : replicates) estimate.value += value / n;
  if (replicates.size() < 2) return estimate;
  double squares = 0;
  for (double value : replicates) squares += (value - estimate.value) * (value - estimate.value);
  const boost::math::students_t student(n - 1);
  estimate.error = boost::math::quantile(student, 0.975) * std::sqrt(squares / (n * (n - 1)));
  return estimate;
}

Interval wilson_interval(double seen, double trials) {
  const double part = seen / trials;
  const double z2 = z95 * z95;
  const double middle = (part + z2 / (2 * trials)) / (1 + z2 / trials);
  const double half =
      z95 / (1 + z2 / trials) * std::sqrt(part * (1 - part) / trials + z2 / (4 * trials * trials));
  // Rounding must not leave a chance to what was never, or always, seen.
  return {seen == 0 ? 0 : middle - half, seen == trials ? 1 : middle + half};
}

double chance_of_the_unseen(double trials) {
  return wilson_interval(0, trials).high;
}

double percentile(std::span<const double> sorted, double part) {
  const auto [below, on] = place_of(part, sorted.size());
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return sorted[below] + on * (sorted[above] - sorted[below]);
}

// Each selection leaves what is greater behind it, where the next percentile looks.
std::array<double, 3> told_percentiles(std::span<double> values) {
  std::array<double, 3> found{};
  auto from = values.begin();
  for (std::size_t i = 0; i < found.size(); ++i) {
    const auto [below, on] = place_of(told_parts[i], values.size());
    const auto here = values.begin() + static_cast<std::ptrdiff_t>(below);
    std::nth_element(from, here, values.end());
    const auto next = std::min_element(here + 1, values.end());
    found[i] = *here + (next == values.end() ? 0 : on * (*next - *here));
    from = here;
  }
  return found;
}

}  // namespace grainwright
