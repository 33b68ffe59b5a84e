// SPDX-License-Identifier: GPL-3.0-or-later
//
// Quadrature over the web of a steady firing. A stretch is cut where its burning area enters
// another band of the chamber, and each piece gets the fewest Gauss-Legendre nodes that integrate
// powers of its area to 1e-9: the error falls as rho^-2n, where rho follows from how far off, in
// half-widths of the piece, the nearest zero of the area can be (Bernstein ellipse; Davis &
// Rabinowitz, Methods of Numerical Integration). Nodes and weights come from Boost.Math. See
// docs/firing.md.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "grainwright/firing/steady.hpp"

namespace grainwright {

/// A Gauss-Legendre rule on [0, 1].
struct GaussRule {
  static constexpr int most = 12;
  int size = 0;
  double reach =
      0;  ///< least distance of a zero, in half-widths, at which the rule is good for 1e-9
  std::array<double, most> node = {};
  std::array<double, most> weight = {};
  /// running[i][j]: weight of node j in the integral from 0 to node i.
  std::array<std::array<double, most>, most> running = {};

  /// Weights of the integral from 0 to a fraction of the piece, and of the value there, for a
  /// function known at the nodes.
  [[nodiscard]] std::array<double, most> weights_to(double fraction) const;
  /// Weights that give the function itself there.
  [[nodiscard]] std::array<double, most> interpolation_at(double fraction) const;
};

/// Rules in rising size; the last one's reach is the least.
[[nodiscard]] const std::array<GaussRule, 9>& gauss_rules();

/// A piece of a burn, ready to sum over: nodes with pressure and 1/r at each.
struct BurnPiece {
  const GaussRule* rule = nullptr;
  const SteadyChamber::Band* band = nullptr;
  double from = 0;  ///< web, m
  double to = 0;
  std::array<double, GaussRule::most> area = {};      ///< m2
  std::array<double, GaussRule::most> pressure = {};  ///< Pa
  std::array<double, GaussRule::most> slowness = {};  ///< s/m

  [[nodiscard]] double width() const { return to - from; }
  /// Web at the i-th node, m.
  [[nodiscard]] double web(int i) const {
    return from + width() * rule->node[static_cast<std::size_t>(i)];
  }
  /// Integral over time of a function of pressure, by the piece's own nodes.
  template <class Function>
  [[nodiscard]] double over_time(Function&& function) const {
    double sum = 0;
    for (std::size_t i = 0; i < static_cast<std::size_t>(rule->size); ++i) {
      sum += rule->weight[i] * slowness[i] * function(pressure[i]);
    }
    return sum * width();
  }
  /// s
  [[nodiscard]] double duration() const {
    return over_time([](double) { return 1.0; });
  }
};

namespace detail {

/// Least distance from the middle of [from, to], in half-widths, at which the area can be zero.
inline double zero_distance(const Quadratic& area, double from, double to) {
  const double middle = (from + to) / 2;
  const double half = (to - from) / 2;
  const double centre = area(middle);
  const double slope = std::abs((area.c[1] + 2 * area.c[2] * middle) * half);
  const double bend = std::abs(area.c[2]) * half * half;
  // |slope| s + |bend| s^2 = centre at the nearest; written so that neither may be zero.
  return 2 * centre / (slope + std::sqrt(slope * slope + 4 * bend * centre));
}

/// The next web after `from` at which the area crosses a band's limit, or `to`.
double next_cut(const Stretch& stretch, const AreaRange& range, const SteadyChamber& chamber,
                double from);

template <class Visit>
void visit_smooth(const Quadratic& area, double from, double to, const SteadyChamber::Band& band,
                  const SteadyChamber& chamber, int halvings, Visit&& visit) {
  const auto& rules = gauss_rules();
  const double distance = zero_distance(area, from, to);
  const auto fit = std::find_if(rules.begin(), rules.end(), [&](const GaussRule& rule) {
    return band.power == 0 || distance >= rule.reach;
  });
  // Written so that a distance that is no number ends the halving.
  if (distance < rules.back().reach && fit == rules.end() && halvings > 0) {
    const double middle = (from + to) / 2;
    visit_smooth(area, from, middle, band, chamber, halvings - 1, visit);
    visit_smooth(area, middle, to, band, chamber, halvings - 1, visit);
    return;
  }
  BurnPiece piece;
  piece.rule = fit == rules.end() ? &rules.back() : &*fit;
  piece.band = &band;
  piece.from = from;
  piece.to = to;
  for (std::size_t i = 0; i < static_cast<std::size_t>(piece.rule->size); ++i) {
    const double here = area(from + (to - from) * piece.rule->node[i]);
    piece.area[i] = here;
    piece.pressure[i] = band.pressure(here);
    piece.slowness[i] = chamber.slowness(band, here, piece.pressure[i]);
  }
  visit(piece);
}

}  // namespace detail

/// Calls visit(const BurnPiece&) for every piece of a stretch, in order of web. The area must be
/// positive inside the stretch; where it falls to zero at an end pieces are halved toward it.
template <class Visit>
void visit_pieces(const Stretch& stretch, const SteadyChamber& chamber, Visit&& visit) {
  constexpr int most_halvings = 40;
  const AreaRange range = area_range(stretch);
  const SteadyChamber::Band& low = chamber.band_of(range.least);
  if (range.greatest <= low.to) {
    detail::visit_smooth(stretch.area, stretch.from, stretch.to, low, chamber, most_halvings,
                         visit);
    return;
  }
  for (double from = stretch.from; from < stretch.to;) {
    const double to = detail::next_cut(stretch, range, chamber, from);
    const SteadyChamber::Band& band = chamber.band_of(stretch.area((from + to) / 2));
    detail::visit_smooth(stretch.area, from, to, band, chamber, most_halvings, visit);
    from = to;
  }
}

}  // namespace grainwright
