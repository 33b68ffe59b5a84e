// SPDX-License-Identifier: GPL-3.0-or-later
#include "chances.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "numbers.hpp"

namespace grainwright::cli {
namespace {

// Under this a chance is not worth its digits: the inputs are not known so well.
constexpr double one_in_a_million = 1e-6;

/// Value and error with the decimals that give the error one digit, two where it begins with a 1.
std::string rounded(double value, double error) {
  const int first = static_cast<int>(std::floor(std::log10(error)));
  const double lead = error / std::pow(10.0, first);
  const int decimals = std::clamp((lead < 2 ? 1 : 0) - first, 0, 9);
  return fmt::format("{:.{}f} ± {:.{}f}", value, decimals, error, decimals);
}

}  // namespace

std::string chance_words(const Estimate& chance) {
  const double error = chance.error;
  if (chance.value == 0 && error > 0) return "none seen, under " + percent(error);
  if (chance.value < one_in_a_million) return "under 1 in a million";
  if (error <= 0) return percent(chance.value);
  return rounded(100 * chance.value, 100 * error) + " %";
}

std::string with_error(const Estimate& estimate, Dimension dimension, UnitSystem units) {
  const double value = in_units(estimate.value, dimension, units);
  const double error = in_units(estimate.value + estimate.error, dimension, units) - value;
  // An error bar finer than the figures of the page is worth no digit.
  if (error <= 1e-5 * std::abs(value)) return number(estimate.value, dimension, units);
  return rounded(value, error);
}

std::string spread_words(const Spread& spread, Dimension own, UnitSystem units) {
  const bool normal = spread.distribution == Distribution::normal;
  const double width = normal ? spread.sigma : spread.limit();
  std::string words = normal ? "sigma " : "within ";
  words += spread.share ? percent(width) : show(width, own, units, 3);
  if (spread.distribution == Distribution::triangular) words += ", triangular";
  if (spread.origin == SpreadOrigin::measured) words += ", measured";
  if (spread.origin == SpreadOrigin::trade) words += " *";
  return words;
}

Json json_of(const Estimate& estimate) {
  return {{"value", estimate.value}, {"error", estimate.error}};
}

}  // namespace grainwright::cli
