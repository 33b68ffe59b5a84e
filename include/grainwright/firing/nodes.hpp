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

/// A piece of a burn in one band, short enough for its rule.
struct BurnRange {
  const GaussRule* rule = nullptr;
  const SteadyChamber::Band* band = nullptr;
  double from = 0;  ///< web, m
  double to = 0;
  [[nodiscard]] double width() const { return to - from; }
  /// Web at the i-th node, m.
  [[nodiscard]] double web(std::size_t i) const { return from + width() * rule->node[i]; }
};

/// The same with pressure and 1/r at each node, ready to sum over.
struct BurnPiece : BurnRange {
  std::array<double, GaussRule::most> area = {};      ///< m2
  std::array<double, GaussRule::most> pressure = {};  ///< Pa
  std::array<double, GaussRule::most> slowness = {};  ///< s/m
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
                  int halvings, Visit&& visit) {
  const auto& rules = gauss_rules();
  const double distance = zero_distance(area, from, to);
  const auto fit = std::find_if(rules.begin(), rules.end(), [&](const GaussRule& rule) {
    return band.power == 0 || distance >= rule.reach;
  });
  // Written so that a distance that is no number ends the halving.
  if (distance < rules.back().reach && fit == rules.end() && halvings > 0) {
    const double middle = (from + to) / 2;
    visit_smooth(area, from, middle, band, halvings - 1, visit);
    visit_smooth(area, middle, to, band, halvings - 1, visit);
    return;
  }
  visit(BurnRange{fit == rules.end() ? &rules.back() : &*fit, &band, from, to});
}

}  // namespace detail

/// Calls visit(const BurnRange&) for every piece of a stretch, in order of web. The area must be
/// positive inside the stretch; where it falls to zero at an end pieces are halved toward it.
template <class Visit>
void visit_ranges(const Stretch& stretch, const SteadyChamber& chamber, Visit&& visit) {
  constexpr int most_halvings = 40;
  const AreaRange range = area_range(stretch);
  const SteadyChamber::Band& low = chamber.band_of(range.least);
  if (range.greatest <= low.to) {
    detail::visit_smooth(stretch.area, stretch.from, stretch.to, low, most_halvings, visit);
    return;
  }
  for (double from = stretch.from; from < stretch.to;) {
    const double to = detail::next_cut(stretch, range, chamber, from);
    const SteadyChamber::Band& band = chamber.band_of(stretch.area((from + to) / 2));
    detail::visit_smooth(stretch.area, from, to, band, most_halvings, visit);
    from = to;
  }
}

/// Calls visit(const Band&, double pressure, double time) for every node of every piece: seconds
/// for which the chamber burns, in effect, at that pressure in Pa. Where it stays put, one node
/// serves.
template <class Visit>
void visit_nodes(const Stretch& stretch, const SteadyChamber& chamber, Visit&& visit) {
  visit_ranges(stretch, chamber, [&](const BurnRange& range) {
    const SteadyChamber::Band& band = *range.band;
    if (band.power == 0) {
      const double volume = stretch.area.integral(range.from, range.to);
      visit(band, band.scale,
            band.slowness > 0 ? range.width() * band.slowness
                              : chamber.slowness(band, volume, band.scale));
      return;
    }
    for (std::size_t i = 0; i < static_cast<std::size_t>(range.rule->size); ++i) {
      const double area = stretch.area(range.web(i));
      const double pressure = band.pressure(area);
      const double share = range.rule->weight[i] * range.width();
      visit(band, pressure, share * chamber.slowness(band, area, pressure));
    }
  });
}

/// Calls visit(const BurnPiece&) for every piece likewise.
template <class Visit>
void visit_pieces(const Stretch& stretch, const SteadyChamber& chamber, Visit&& visit) {
  visit_ranges(stretch, chamber, [&](const BurnRange& range) {
    BurnPiece piece{range};
    for (std::size_t i = 0; i < static_cast<std::size_t>(range.rule->size); ++i) {
      const double here = stretch.area(range.web(i));
      piece.area[i] = here;
      piece.pressure[i] = range.band->pressure(here);
      piece.slowness[i] = chamber.slowness(*range.band, here, piece.pressure[i]);
    }
    visit(piece);
  });
}

}  // namespace grainwright
