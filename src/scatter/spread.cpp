// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/spread.hpp"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <numbers>
#include <string>

namespace grainwright {
namespace {

using std::numbers::sqrt2;
using std::numbers::sqrt3;

constexpr std::array all_distributions = {Distribution::normal, Distribution::uniform,
                                          Distribution::triangular};

// Scatters ask this more often than anything else: in plain doubles it takes a third of the time,
// and is as good to a few units of the last digit.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
constexpr InDouble in_double;

// Limit over sigma of each distribution.
double reach(Distribution distribution) {
  switch (distribution) {
    case Distribution::normal:
      return sigmas_to_limits;
    case Distribution::uniform:
      return sqrt3;
    case Distribution::triangular:
      return std::sqrt(6.0);
  }
  return 1;
}

// Around 0 with unit limits.
double triangular_quantile(double u) {
  return u < 0.5 ? std::sqrt(2 * u) - 1 : 1 - std::sqrt(2 * (1 - u));
}
double triangular_part_below(double x) {
  return x < 0 ? (1 + x) * (1 + x) / 2 : 1 - (1 - x) * (1 - x) / 2;
}

}  // namespace

std::string_view name_of(Distribution distribution) {
  switch (distribution) {
    case Distribution::normal:
      return "normal";
    case Distribution::uniform:
      return "uniform";
    case Distribution::triangular:
      return "triangular";
  }
  return "";
}

std::optional<Distribution> distribution_named(std::string_view name) {
  for (Distribution distribution : all_distributions) {
    if (name == name_of(distribution)) return distribution;
  }
  return std::nullopt;
}

Spread Spread::within(Distribution distribution, double limit, bool share) {
  return {distribution, limit / reach(distribution), share};
}

double Spread::limit() const {
  return sigma * reach(distribution);
}

Spread Spread::times(double factor) const {
  Spread scaled = *this;
  scaled.sigma *= factor;
  return scaled;
}

double Spread::departure(double u) const {
  switch (distribution) {
    case Distribution::normal:
      return -sigma * sqrt2 * boost::math::erfc_inv(2 * u, in_double);
    case Distribution::uniform:
      return limit() * (2 * u - 1);
    case Distribution::triangular:
      return limit() * triangular_quantile(u);
  }
  return 0;
}

double Spread::part_below(double departure) const {
  if (none()) return departure > 0 ? 1 : 0;
  if (distribution == Distribution::normal) return std::erfc(-departure / (sigma * sqrt2)) / 2;
  const double x = std::clamp(departure / limit(), -1.0, 1.0);
  return distribution == Distribution::uniform ? (1 + x) / 2 : triangular_part_below(x);
}

double Spread::factor_of(double departure) const {
  return distribution == Distribution::normal ? std::exp(departure) : 1 + departure;
}

double Spread::part_below_factor(double factor) const {
  if (distribution != Distribution::normal) return part_below(factor - 1);
  return factor > 0 ? part_below(std::log(factor)) : 0;
}

// Each distribution is the same on both sides, so that small tails keep their digits.
double Spread::part_above_factor(double factor) const {
  if (none()) return factor < 1 ? 1 : 0;
  if (distribution != Distribution::normal) return part_below(1 - factor);
  return factor > 0 ? part_below(-std::log(factor)) : 1;
}

std::vector<Complaint> complaints(const Spread& spread) {
  if (!(std::isfinite(spread.sigma) && spread.sigma >= 0)) {
    return {{"", std::to_string(spread.sigma), "a width of 0 or more"}};
  }
  if (spread.share && spread.limit() >= 1) {
    return {{"", "limits of " + std::to_string(spread.limit() * 100) + " %",
             "limits under 100 %: a whole share strayed leaves nothing"}};
  }
  return {};
}

}  // namespace grainwright
