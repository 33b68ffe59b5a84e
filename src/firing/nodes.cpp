// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/nodes.hpp"

#include <boost/math/special_functions/legendre.hpp>

namespace grainwright {
namespace {

// The sizes on offer and the error each may leave, rho^-2n, before the small constant in front.
constexpr std::array<int, 9> sizes = {2, 3, 4, 5, 6, 7, 8, 10, 12};
constexpr double error_left = 1e-11;

// Abscissae on [-1, 1] in rising order.
std::vector<double> legendre_nodes(int size) {
  std::vector<double> nodes;
  for (double zero : boost::math::legendre_p_zeros<double>(size)) {
    nodes.push_back(zero);
    if (zero != 0) nodes.push_back(-zero);
  }
  std::sort(nodes.begin(), nodes.end());
  return nodes;
}

// Running integrals by the Legendre expansion of the interpolant: node j has coefficient
// (2k+1)/2 w_j P_k(s_j), and the integral of P_k from -1 is (P_{k+1} - P_{k-1})/(2k+1).
double running_weight(double s, double node, double weight, int size) {
  double sum = (s + 1) / 2;
  for (int k = 1; k < size; ++k) {
    sum += boost::math::legendre_p(k, node) *
           (boost::math::legendre_p(k + 1, s) - boost::math::legendre_p(k - 1, s)) / 2;
  }
  return weight * sum;
}

GaussRule make_rule(int size) {
  GaussRule rule;
  rule.size = size;
  const double rho = std::pow(error_left, -1.0 / (2 * size));
  rule.reach = (rho + 1 / rho) / 2;
  const std::vector<double> nodes = legendre_nodes(size);
  for (std::size_t j = 0; j < nodes.size(); ++j) {
    const double s = nodes[j];
    const double slope = boost::math::legendre_p_prime(size, s);
    const double weight = 2 / ((1 - s * s) * slope * slope);
    rule.node[j] = (s + 1) / 2;
    rule.weight[j] = weight / 2;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      rule.running[i][j] = running_weight(nodes[i], s, weight, size) / 2;
    }
  }
  return rule;
}

}  // namespace

std::array<double, GaussRule::most> GaussRule::weights_to(double fraction) const {
  std::array<double, most> weights{};
  for (std::size_t j = 0; j < static_cast<std::size_t>(size); ++j) {
    weights[j] = running_weight(2 * fraction - 1, 2 * node[j] - 1, 2 * weight[j], size) / 2;
  }
  return weights;
}

std::array<double, GaussRule::most> GaussRule::interpolation_at(double fraction) const {
  std::array<double, most> values{};
  for (std::size_t j = 0; j < static_cast<std::size_t>(size); ++j) {
    double sum = 0;
    for (int k = 0; k < size; ++k) {
      sum += (2 * k + 1) * boost::math::legendre_p(k, 2 * node[j] - 1) *
             boost::math::legendre_p(k, 2 * fraction - 1);
    }
    values[j] = weight[j] * sum;
  }
  return values;
}

const std::array<GaussRule, 9>& gauss_rules() {
  static const std::array<GaussRule, 9> rules = [] {
    std::array<GaussRule, 9> made;
    std::transform(sizes.begin(), sizes.end(), made.begin(), make_rule);
    return made;
  }();
  return rules;
}

double detail::next_cut(const Stretch& stretch, const AreaRange& range,
                        const SteadyChamber& chamber, double from) {
  const auto& c = stretch.area.c;
  // A root this close to where we stand is the cut we stand on.
  const double just_after = from + 1e-12 * (stretch.to - stretch.from);
  double cut = stretch.to;
  const auto offer = [&](double web) {
    if (web > just_after && web < cut) cut = web;
  };
  for (const SteadyChamber::Band& band : chamber.bands()) {
    if (band.to <= range.least || band.to >= range.greatest) continue;
    const double constant = c[0] - band.to;
    if (c[2] == 0) {
      if (c[1] != 0) offer(-constant / c[1]);
      continue;
    }
    const double discriminant = c[1] * c[1] - 4 * c[2] * constant;
    if (discriminant < 0) continue;
    const double q = -(c[1] + std::copysign(std::sqrt(discriminant), c[1])) / 2;
    offer(q / c[2]);
    if (q != 0) offer(constant / q);
  }
  return cut;
}

}  // namespace grainwright
