// SPDX-License-Identifier: GPL-3.0-or-later
#include "pieces.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace grainwright {
namespace {

// What a piece may add to the relative error of an integral over the whole web.
constexpr double tolerance = 1e-11;
// Of the mean area: below it, areas are as good as none, since no chamber burns under a thousandth
// of its mean pressure.
constexpr double faint = 1e-3;
// Of the whole volume: the rounding of what is left, which no halving mends.
constexpr double rounding = 2e-15;
constexpr double narrowest = 1e-8;   // of burnout; no piece is halved below
constexpr double too_narrow = 1e-5;  // of burnout, for a quadratic of the web itself
// Gauss-Legendre with three nodes on [-1, 1].
const std::array<double, 3> node = {-std::sqrt(0.6), 0, std::sqrt(0.6)};
constexpr std::array<double, 3> weight = {5.0 / 9, 8.0 / 9, 5.0 / 9};

// An area known at three Gauss nodes in each of two neighbouring ranges.
class Pair {
 public:
  template <typename First, typename Second>
  Pair(double from, double joint, double to, const First& first, const Second& second)
      : from_(from), to_(to) {
    for (std::size_t i = 0; i < 3; ++i) {
      sample(i, from, joint, i, first);
      sample(i + 3, joint, to, i, second);
    }
  }

  // The quadratic nearest in the mean square, of the mean that is given; a line or less where
  // digits do not allow more or it would fall below zero.
  [[nodiscard]] Quadratic nearest(double mean, const BentBurn& burn) const {
    double tilt = 0;
    double bend = 0;
    for (std::size_t i = 0; i < 6; ++i) {
      const double t = (web_[i] - middle()) / half();
      tilt += 3 * share_[i] * value_[i] * t;
      bend += 5 * share_[i] * value_[i] * (1.5 * t * t - 0.5);
    }
    const double floor = -1e-13 * burn.whole_volume / burn.burnout;
    const auto sound = [&](const Quadratic& q) { return q(from_) >= floor && q(to_) >= floor; };
    if (to_ - from_ > too_narrow * burn.burnout) {
      if (const Quadratic whole = of_web(mean - bend / 2, tilt, 1.5 * bend); sound(whole)) {
        return whole;
      }
    }
    const Quadratic line = of_web(mean, tilt, 0);
    return sound(line) ? line : of_web(mean, 0, 0);
  }

  // Whether the integral of the area's inverse would be the same, to first and to second order.
  [[nodiscard]] bool shown_by(const Quadratic& area, const BentBurn& burn) const {
    const double mean = burn.whole_volume / burn.burnout;
    double first = 0;
    double second = 0;
    double noise = 0;
    for (std::size_t i = 0; i < 6; ++i) {
      const double scale = std::abs(value_[i]) + faint * mean;
      const double off = (area(web_[i]) - value_[i]) / scale;
      first += share_[i] * off * mean / scale;
      second += share_[i] * off * off;
      noise += share_[i] * rounding * mean * mean / (scale * scale);
    }
    const double part = (to_ - from_) / burn.burnout;
    return second * part <= tolerance && std::abs(first) * part <= tolerance + noise;
  }

  [[nodiscard]] double mean() const {
    double sum = 0;
    for (std::size_t i = 0; i < 6; ++i) sum += share_[i] * value_[i];
    return sum;
  }

 private:
  template <typename Area>
  void sample(std::size_t at, double from, double to, std::size_t i, const Area& area) {
    web_[at] = (from + to) / 2 + node[i] * (to - from) / 2;
    share_[at] = weight[i] / 2 * (to - from) / (to_ - from_);
    value_[at] = area(web_[at]);
  }
  [[nodiscard]] double middle() const { return (from_ + to_) / 2; }
  [[nodiscard]] double half() const { return (to_ - from_) / 2; }
  // From coefficients of t = (web - middle) / half.
  [[nodiscard]] Quadratic of_web(double c0, double c1, double c2) const {
    const double m = middle() / half();
    return {{c0 - m * (c1 - m * c2), (c1 - 2 * m * c2) / half(), c2 / (half() * half())}};
  }

  double from_, to_;
  std::array<double, 6> web_ = {};
  std::array<double, 6> share_ = {};  // of the whole range
  std::array<double, 6> value_ = {};
};

class Halver {
 public:
  explicit Halver(const BentBurn& burn) : burn_(burn) {}

  void halve(double from, double to, double volume_from, double volume_to) {
    const double middle = (from + to) / 2;
    const Pair pair(from, middle, to, burn_.area, burn_.area);
    const Quadratic area = pair.nearest((volume_from - volume_to) / (to - from), burn_);
    if (to - from <= narrowest * burn_.burnout || pair.shown_by(area, burn_)) {
      pieces.push_back({from, to, area});
      return;
    }
    const double volume = burn_.volume(middle);
    halve(from, middle, volume_from, volume);
    halve(middle, to, volume, volume_to);
  }
  std::vector<Stretch> pieces;

 private:
  const BentBurn& burn_;
};

}  // namespace

std::vector<Stretch> pieces_of(const BentBurn& burn, double from, double to) {
  Halver halver(burn);
  halver.halve(from, to, burn.volume(from), burn.volume(to));
  return std::move(halver.pieces);
}

std::vector<Stretch> joined(std::span<const Stretch> pieces, const BentBurn& burn,
                            std::span<const double> kept) {
  std::vector<Stretch> out;
  for (const Stretch& piece : pieces) {
    if (!out.empty() && !std::ranges::binary_search(kept, piece.from)) {
      Stretch& last = out.back();
      const Pair pair(last.from, piece.from, piece.to, last.area, piece.area);
      const Quadratic area = pair.nearest(pair.mean(), burn);
      if (pair.shown_by(area, burn)) {
        last = {last.from, piece.to, area};
        continue;
      }
    }
    out.push_back(piece);
  }
  return out;
}

}  // namespace grainwright
