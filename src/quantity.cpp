// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/quantity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <numeric>

#include "kind.hpp"
#include "unit.hpp"

namespace grainwright {
namespace {

const Printed& printed(Dimension dimension, UnitSystem units) {
  const Kind& kind = kind_of(dimension);
  return units == UnitSystem::us ? kind.us : kind.si;
}

double in_unit(double value, Dimension dimension, std::string_view name) {
  const Unit unit = read_unit(name).unit;
  const double zero = dimension == Dimension::temperature ? unit.zero : 0;
  return times_ten_to(value / unit.factor - zero, -unit.ten);
}

std::string without_trailing_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text == "-0" ? "0" : text;
}

// Fixed notation where a person can take it in, powers of ten beyond.
std::string rounded(double value, int digits) {
  if (value == 0 || !std::isfinite(value)) return fmt::format("{}", value == 0 ? 0.0 : value);
  const std::string scientific = fmt::format("{:.{}e}", value, digits - 1);
  const auto e = scientific.find('e');
  const int ten = std::atoi(scientific.c_str() + e + 1);
  if (ten < -5 || ten > 9) {
    return without_trailing_zeros(scientific.substr(0, e)) + fmt::format("e{}", ten);
  }
  // Rounding to whole tens or hundreds first: the fixed form alone would print every digit.
  double kept = 0;
  std::from_chars(scientific.data(), scientific.data() + scientific.size(), kept);
  return without_trailing_zeros(fmt::format("{:.{}f}", kept, std::max(0, digits - 1 - ten)));
}

std::string with_unit(std::string number, std::string_view unit) {
  return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

constexpr double inch = 0.0254;
constexpr double most_inches = 1e6;  // beyond, a fraction of an inch says nothing

// "2 7/16", "7/16", "3", "-1/2", "0".
std::string as_fraction(long sixty_fourths) {
  const long size = std::abs(sixty_fourths);
  const long common = std::gcd(size % 64, 64L);
  std::string text = sixty_fourths < 0 ? "-" : "";
  if (size / 64 > 0 || size == 0) text += std::to_string(size / 64);
  if (size % 64 == 0) return text;
  if (size > 64) text += ' ';
  return text + fmt::format("{}/{}", size % 64 / common, 64 / common);
}

// Where the nearest 1/64 is off by more than a thousandth of an inch.
std::string_view about_word(double inches) {
  return std::abs(inches - std::round(inches * 64) / 64) > 0.001 ? "about " : "";
}

// The shortest digits that give the same double, with the point moved: metres as mm.
std::string shortest(double value, int ten) {
  if (!std::isfinite(value)) return fmt::format("{}", value);
  std::array<char, 32> buffer{};
  std::to_chars(buffer.data(), buffer.data() + buffer.size(), std::abs(value),
                std::chars_format::scientific);
  const std::string text = buffer.data();
  const auto e = text.find('e');
  const std::string sign = std::signbit(value) ? "-" : "";
  const int point = std::atoi(text.c_str() + e + 1) + ten + 1;
  if (std::abs(point) > 20) return fmt::format("{}{}e{}", sign, text.substr(0, e), point - 1);
  std::string digits = text.substr(0, e);
  std::erase(digits, '.');
  const auto zeros = [](int count) {
    return std::string(static_cast<std::size_t>(std::max(0, count)), '0');
  };
  digits += zeros(point - static_cast<int>(digits.size()));
  if (point <= 0) return sign + "0." + zeros(-point) + digits;
  const auto whole = static_cast<std::size_t>(point);
  return sign + digits.substr(0, whole) + (whole < digits.size() ? "." : "") + digits.substr(whole);
}

}  // namespace

std::string_view example_of(Dimension dimension) {
  return kind_of(dimension).example;
}

std::string_view name_of(Dimension dimension) {
  return kind_of(dimension).name;
}

std::string show(double value, Dimension dimension, UnitSystem units, int digits) {
  const Printed& in = printed(dimension, units);
  const bool large = !in.large.empty() && std::abs(value) >= in.large_from;
  const std::string_view unit = large ? in.large : in.unit;
  return with_unit(rounded(in_unit(value, dimension, unit), digits), unit);
}

std::string_view unit_of(Dimension dimension, UnitSystem units) {
  return printed(dimension, units).unit;
}

double in_units(double value, Dimension dimension, UnitSystem units) {
  return in_unit(value, dimension, unit_of(dimension, units));
}

std::string show_length(double metres, UnitSystem units) {
  if (units == UnitSystem::si) {
    return without_trailing_zeros(fmt::format("{:.2f}", metres * 1000)) + " mm";
  }
  const double inches = metres / inch;
  const auto decimals = [&](int count) {
    return without_trailing_zeros(fmt::format("{:.{}f}", inches, count));
  };
  if (!(std::abs(inches) < most_inches)) return decimals(4) + " in";
  const long sixty_fourths = std::lround(inches * 64);
  // A whole 1/64 is a six-digit decimal and is given whole.
  const std::string decimal =
      decimals(std::abs(inches * 64 - static_cast<double>(sixty_fourths)) < 1e-6 ? 6 : 4);
  const std::string fraction = as_fraction(sixty_fourths);
  if (sixty_fourths == 0 || fraction == decimal) return decimal + " in";
  return fmt::format("{} in ({}{})", decimal, about_word(inches), fraction);
}

std::string show_fraction(double metres) {
  const double inches = metres / inch;
  if (!(std::abs(inches) < most_inches)) return show_length(metres, UnitSystem::us);
  return fmt::format("{}{} in", about_word(inches), as_fraction(std::lround(inches * 64)));
}

std::string write_length(double metres) {
  const double sixty_fourths = std::round(metres / inch * 64);
  if (std::abs(sixty_fourths) < most_inches) {
    const std::string text = as_fraction(static_cast<long>(sixty_fourths)) + " in";
    if (read_quantity(text, Dimension::length) == metres) return text;
  }
  return shortest(metres, 3) + " mm";
}

std::string write_quantity(double value, Dimension dimension) {
  return with_unit(shortest(value, 0), kind_of(dimension).base);
}

}  // namespace grainwright
