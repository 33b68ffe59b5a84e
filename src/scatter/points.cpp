// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/points.hpp"

#include <boost/random/sobol.hpp>

namespace grainwright {
namespace {

std::uint32_t reversed(std::uint32_t x) {
  x = ((x >> 1U) & 0x55555555U) | ((x & 0x55555555U) << 1U);
  x = ((x >> 2U) & 0x33333333U) | ((x & 0x33333333U) << 2U);
  x = ((x >> 4U) & 0x0f0f0f0fU) | ((x & 0x0f0f0f0fU) << 4U);
  x = ((x >> 8U) & 0x00ff00ffU) | ((x & 0x00ff00ffU) << 8U);
  return (x >> 16U) | (x << 16U);
}

// Even factors: no bit depends on a higher one, so that in reversed order each bit of a coordinate
// is flipped by what stands before it alone, which is what makes a scramble nested.
std::uint32_t nested_scramble(std::uint32_t word, std::uint32_t key) {
  std::uint32_t x = reversed(word);
  x += key;
  x ^= x * 0x6c50b47cU;
  x ^= x * 0xb82f1e52U;
  x ^= x * 0xc7afe638U;
  x ^= x * 0x8d22f6e6U;
  return reversed(x);
}

// Steele, Lea & Flood, Fast Splittable Pseudorandom Number Generators (2014).
std::uint64_t mixed(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15U;
  x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
  x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
  return x ^ (x >> 31U);
}

}  // namespace

SobolPoints::SobolPoints(std::size_t dimensions, unsigned log2_count)
    : dimensions_(dimensions), count_(std::size_t{1} << log2_count) {
  words_.reserve(dimensions_ * count_);
  words_.assign(dimensions_, 0);  // Boost leaves the origin out
  boost::random::sobol_engine<std::uint32_t, 32> engine(dimensions_);
  while (words_.size() < dimensions_ * count_) words_.push_back(engine());
}

Scramble::Scramble(std::size_t dimensions, std::uint64_t seed, std::uint64_t replicate) {
  std::uint64_t state = mixed(mixed(seed) + replicate);
  for (std::size_t i = 0; i < dimensions; ++i) {
    state = mixed(state);
    keys_.push_back(static_cast<std::uint32_t>(state >> 32U));
  }
}

double Scramble::coordinate(const SobolPoints& points, std::size_t point,
                            std::size_t dimension) const {
  constexpr double cell = 1.0 / 4294967296.0;
  return (nested_scramble(points.raw(point, dimension), keys_[dimension]) + 0.5) * cell;
}

void Scramble::fill(const SobolPoints& points, std::size_t point, std::size_t first,
                    std::span<double> coordinates) const {
  for (std::size_t d = 0; d < coordinates.size(); ++d) {
    coordinates[d] = coordinate(points, point, first + d);
  }
}

}  // namespace grainwright
