// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/variance.hpp"

#include <algorithm>

namespace grainwright {

VarianceSums variance_sums(const std::function<double(std::span<const double>)>& answer,
                           std::span<const InputGroup> groups, const SobolPoints& points,
                           const Scramble& scramble,
                           const std::function<void(std::span<double>)>& prepare) {
  const std::size_t dimensions = points.dimensions() / 2;
  const std::size_t count = points.count();
  std::vector<double> a(dimensions);
  std::vector<double> b(dimensions);
  std::vector<double> mixed(dimensions);
  std::vector<double> of_a(count);
  std::vector<double> of_b(count);
  std::vector<std::vector<double>> of_mixed(groups.size(), std::vector<double>(count));
  for (std::size_t i = 0; i < count; ++i) {
    scramble.fill(points, i, 0, a);
    scramble.fill(points, i, dimensions, b);
    prepare(a);
    prepare(b);
    of_a[i] = answer(a);
    of_b[i] = answer(b);
    for (std::size_t g = 0; g < groups.size(); ++g) {
      mixed = a;
      std::copy_n(b.begin() + static_cast<std::ptrdiff_t>(groups[g].first), groups[g].size,
                  mixed.begin() + static_cast<std::ptrdiff_t>(groups[g].first));
      of_mixed[g][i] = answer(mixed);
    }
  }
  const double n = static_cast<double>(count);
  VarianceSums sums{.alone = std::vector<double>(groups.size()),
                    .total = std::vector<double>(groups.size())};
  for (std::size_t i = 0; i < count; ++i) sums.mean += (of_a[i] + of_b[i]) / (2 * n);
  for (std::size_t i = 0; i < count; ++i) {
    const double from_a = of_a[i] - sums.mean;
    const double from_b = of_b[i] - sums.mean;
    sums.variance += (from_a * from_a + from_b * from_b) / (2 * n);
    for (std::size_t g = 0; g < groups.size(); ++g) {
      const double moved = of_mixed[g][i] - of_a[i];
      sums.alone[g] += from_b * moved / n;
      sums.total[g] += moved * moved / (2 * n);
    }
  }
  return sums;
}

}  // namespace grainwright
