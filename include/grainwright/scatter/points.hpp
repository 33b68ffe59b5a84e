// SPDX-License-Identifier: GPL-3.0-or-later
//
// Sobol's points, scrambled: they fill the unit cube more evenly than chance, so that means and
// percentiles converge faster than by plain Monte Carlo, and independent scrambles of them give an
// error bar. Sequence: Boost's, with the directions of Joe & Kuo (2008). Scramble: Owen's nested
// one (1995), by hashing as in Laine & Karras (2011) and Burley (2020).
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace grainwright {

/// The first points of Sobol's sequence, to be scrambled by each replicate for itself.
class SobolPoints {
 public:
  /// 2^log2_count points, log2_count up to 20. The first one is the origin.
  SobolPoints(std::size_t dimensions, unsigned log2_count);

  [[nodiscard]] std::size_t dimensions() const { return dimensions_; }
  [[nodiscard]] std::size_t count() const { return count_; }
  /// As it comes, in units of 2^-32.
  [[nodiscard]] std::uint32_t raw(std::size_t point, std::size_t dimension) const {
    return words_[point * dimensions_ + dimension];
  }

 private:
  std::size_t dimensions_;
  std::size_t count_;
  std::vector<std::uint32_t> words_;
};

/// One independent scramble of them.
class Scramble {
 public:
  /// `replicate` counts from 0; the same seed and replicate give the same scramble everywhere.
  Scramble(std::size_t dimensions, std::uint64_t seed, std::uint64_t replicate);

  /// In the open interval (0, 1).
  [[nodiscard]] double coordinate(const SobolPoints& points, std::size_t point,
                                  std::size_t dimension) const;
  /// As many coordinates of a point as there is room for, from a first dimension on.
  void fill(const SobolPoints& points, std::size_t point, std::size_t first,
            std::span<double> coordinates) const;

 private:
  std::vector<std::uint32_t> keys_;
};

}  // namespace grainwright
