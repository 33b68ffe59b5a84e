// SPDX-License-Identifier: GPL-3.0-or-later
#include "spikes.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace grainwright {
namespace {

constexpr std::size_t reach = 3;  // rows looked at on each side
constexpr double times_noise = 8;
constexpr double of_span = 0.03;
constexpr double times_neighbours = 3;
constexpr std::size_t sample_size = 20000;
// Of a normal distribution, standard deviation / median of the absolute deviation.
constexpr double normal_ratio = 1.4826;

/// Evenly spread values, `sample_size` at most.
template <class Value>
std::vector<double> sampled(std::size_t count, Value&& value) {
  const std::size_t stride = std::max<std::size_t>(1, count / sample_size);
  std::vector<double> sample;
  for (std::size_t i = 0; i < count; i += stride) sample.push_back(value(i));
  return sample;
}

double quantile(std::vector<double>& sample, double share) {
  const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(sample.size() - 1));
  std::ranges::nth_element(sample, sample.begin() + at);
  return sample[static_cast<std::size_t>(at)];
}

double span_of(const std::vector<double>& values) {
  auto sample = sampled(values.size(), [&](std::size_t i) { return values[i]; });
  const double high = quantile(sample, 0.995);
  return high - quantile(sample, 0.005);
}

bool stands_alone(const std::vector<double>& f, std::size_t i, double threshold) {
  std::array<double, 2 * reach + 1> window = {};
  std::copy_n(f.begin() + static_cast<std::ptrdiff_t>(i - reach), window.size(), window.begin());
  std::ranges::sort(window);
  const double deviation = f[i] - window[reach];
  if (std::abs(deviation) <= threshold) return false;
  // Without the two farthest on the row's own side.
  const double rest =
      deviation > 0 ? window[window.size() - 3] - window.front() : window.back() - window[2];
  return std::abs(deviation) > times_neighbours * rest;
}

}  // namespace

double median_step(const std::vector<double>& time) {
  if (time.size() < 2) return 0;
  auto steps = sampled(time.size() - 1, [&](std::size_t i) { return time[i + 1] - time[i]; });
  return quantile(steps, 0.5);
}

double noise_of(const std::vector<double>& values) {
  if (values.size() < 2) return 0;
  auto steps = sampled(values.size() - 1,
                       [&](std::size_t i) { return std::abs(values[i + 1] - values[i]); });
  return normal_ratio * quantile(steps, 0.5) / std::sqrt(2.0);
}

FaultCount set_spikes_aside(Log& log) {
  FaultCount found;
  const std::vector<double>& f = log.force;
  if (f.size() < 2 * reach + 1) return found;
  const double threshold = std::max(times_noise * noise_of(f), of_span * span_of(f));
  std::vector<std::size_t> alone;
  for (std::size_t i = reach; i + reach < f.size(); ++i) {
    // Most rows are like those three away, and no spike.
    const bool likely = std::abs(f[i] - f[i - reach]) > threshold / 2 &&
                        std::abs(f[i] - f[i + reach]) > threshold / 2;
    if (!likely || !stands_alone(f, i, threshold)) continue;
    alone.push_back(i);
    found.add(log.line[i]);
  }
  if (alone.empty()) return found;
  const auto drop = [&](auto& column) {
    if (column.empty()) return;
    std::size_t kept = alone.front();
    auto next = alone.begin();
    for (std::size_t i = kept; i < column.size(); ++i) {
      if (next != alone.end() && *next == i) {
        ++next;
      } else {
        column[kept++] = column[i];
      }
    }
    column.resize(kept);
  };
  drop(log.time);
  drop(log.force);
  drop(log.pressure);
  drop(log.line);
  return found;
}

}  // namespace grainwright
