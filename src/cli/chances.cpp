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
// Under this it is told as one in so many.
constexpr double small_chance = 0.01;
// Error bars finer than what the models and the inputs are worth are left out, and the digits with
// them: relative, of a chance and of another figure.
constexpr double worth_a_bar_of_chance = 0.05;
constexpr double worth_a_bar = 5e-3;
constexpr int worth_digits = 3;

/// "1 in 1,300": the number with two digits, thousands parted.
std::string one_in(double chance) {
  const double many = 1 / chance;
  const double step = std::pow(10.0, std::floor(std::log10(many)) - 1);
  const std::string digits =
      fmt::format("{:.0f}", step < 1 ? std::round(many) : std::round(many / step) * step);
  std::string words = "1 in ";
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i > 0 && (digits.size() - i) % 3 == 0) words.push_back(',');
    words.push_back(digits[i]);
  }
  return words;
}

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
  if (chance.value == 0 && error > 0) return "none seen, under " + one_in(error);
  if (chance.value < one_in_a_million) return "under 1 in a million";
  if (chance.value < small_chance) return one_in(chance.value);
  if (chance.value > 1 - one_in_a_million) return "100 %";
  if (chance.value > 1 - small_chance) return "over 99 %";
  if (error <= worth_a_bar_of_chance * chance.value) return percent(chance.value);
  return rounded(100 * chance.value, 100 * error) + " %";
}

std::string with_error(const Estimate& estimate, Dimension dimension, UnitSystem units) {
  const double value = in_units(estimate.value, dimension, units);
  const double error = in_units(estimate.value + estimate.error, dimension, units) - value;
  if (error <= worth_a_bar * std::abs(value)) {
    return number(estimate.value, dimension, units, worth_digits);
  }
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
