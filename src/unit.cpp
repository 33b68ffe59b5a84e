// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace grainwright {
namespace {

constexpr double inch = 0.0254;
constexpr double foot = 0.3048;
constexpr double pound = 0.45359237;
constexpr double standard_gravity = 9.80665;
constexpr double pound_force = pound * standard_gravity;
constexpr double psi = pound_force / (inch * inch);
constexpr double btu = 1055.05585262;  // of the International Table

constexpr Powers plain = {};
constexpr Powers length = {1};
constexpr Powers volume = {3};
constexpr Powers mass = {0, 1};
constexpr Powers time = {0, 0, 1};
constexpr Powers speed = {1, 0, -1};
constexpr Powers force = {1, 1, -2};
constexpr Powers impulse = {1, 1, -1};
constexpr Powers pressure = {-1, 1, -2};
constexpr Powers energy = {2, 1, -2};
constexpr Powers power = {2, 1, -3};
constexpr Powers temperature = {0, 0, 0, 1};
constexpr Powers amount = {0, 0, 0, 0, 1};
constexpr Powers angle = {0, 0, 0, 0, 0, 1};
constexpr Powers frequency = {0, 0, -1};

enum class Takes { no_prefix, prefix };

struct Symbol {
  std::string_view name;
  Powers powers;
  double factor = 1;
  int ten = 0;
  Takes takes = Takes::no_prefix;
  double zero = 0;
  bool gauge = false;
};

// NIST SP 811 (2008), appendix B; factors that follow from a definition are exact.
constexpr Symbol symbols[] = {
    {"m", length, 1, 0, Takes::prefix},
    {"in", length, inch},
    {"inch", length, inch},
    {"inches", length, inch},
    {"ft", length, foot},
    {"foot", length, foot},
    {"feet", length, foot},
    {"yd", length, 3 * foot},
    {"mil", length, inch, -3},
    {"L", volume, 1, -3, Takes::prefix},
    {"g", mass, 1, -3, Takes::prefix},
    {"lb", mass, pound},
    {"lbs", mass, pound},
    {"lbm", mass, pound},
    {"oz", mass, pound / 16},
    {"slug", mass, pound_force / foot},
    {"s", time, 1, 0, Takes::prefix},
    {"sec", time},
    {"min", time, 60},
    {"h", time, 3600},
    {"mph", speed, 5280 * foot / 3600},
    {"N", force, 1, 0, Takes::prefix},
    {"lbf", force, pound_force},
    {"kgf", force, standard_gravity},
    {"Ns", impulse, 1, 0, Takes::prefix},
    {"Pa", pressure, 1, 0, Takes::prefix},
    {"psi", pressure, psi},
    {"psia", pressure, psi},
    {"ksi", pressure, psi, 3},
    {"bar", pressure, 1, 5, Takes::prefix},
    {"atm", pressure, 101325},
    {"inHg", pressure, 3386.389},
    {"psig", pressure, psi, 0, Takes::no_prefix, 0, true},
    {"barg", pressure, 1, 5, Takes::no_prefix, 0, true},
    {"Pag", pressure, 1, 0, Takes::prefix, 0, true},
    {"J", energy, 1, 0, Takes::prefix},
    {"Btu", energy, btu},
    {"BTU", energy, btu},
    {"btu", energy, btu},
    {"W", power, 1, 0, Takes::prefix},
    {"K", temperature, 1, 0, Takes::prefix},
    {"R", temperature, 5.0 / 9},
    {"degR", temperature, 5.0 / 9},
    {"degC", temperature, 1, 0, Takes::no_prefix, 273.15},
    {"C", temperature, 1, 0, Takes::no_prefix, 273.15},
    {"degF", temperature, 5.0 / 9, 0, Takes::no_prefix, 459.67},
    {"F", temperature, 5.0 / 9, 0, Takes::no_prefix, 459.67},
    {"mol", amount, 1, 0, Takes::prefix},
    {"rad", angle, 1, 0, Takes::prefix},
    {"deg", angle, 0.017453292519943295},
    {"Hz", frequency, 1, 0, Takes::prefix},
    {"%", plain, 1, -2},
};

struct Prefix {
  char letter;
  int ten;
};
constexpr Prefix prefixes[] = {{'G', 9},  {'M', 6},  {'k', 3},  {'h', 2},
                               {'c', -2}, {'m', -3}, {'u', -6}, {'n', -9}};

// A whole name before a prefixed one: "min" is a minute, "ft" no femto-anything.
std::optional<Symbol> find_symbol(std::string_view name) {
  const auto* whole = std::ranges::find(symbols, name, &Symbol::name);
  if (whole != std::ranges::end(symbols)) return *whole;
  if (name.empty()) return std::nullopt;
  const auto* prefix = std::ranges::find(prefixes, name.front(), &Prefix::letter);
  const auto* stem = std::ranges::find(symbols, name.substr(1), &Symbol::name);
  if (prefix == std::ranges::end(prefixes) || stem == std::ranges::end(symbols) ||
      stem->takes == Takes::no_prefix) {
    return std::nullopt;
  }
  Symbol symbol = *stem;
  symbol.ten += prefix->ten;
  return symbol;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool in_symbol(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '%';
}

std::string_view take_symbol(std::string_view& rest) {
  const auto end = std::ranges::find_if_not(rest, in_symbol);
  const std::string_view symbol = rest.substr(0, static_cast<std::size_t>(end - rest.begin()));
  rest.remove_prefix(symbol.size());
  return symbol;
}

// One digit, with a sign or without: "2", "^2", "-1", "^-1". Nothing there means 1.
int take_exponent(std::string_view& rest) {
  std::size_t at = rest.starts_with('^') ? 1 : 0;
  const bool negative = at < rest.size() && rest[at] == '-';
  if (negative) ++at;
  if (at >= rest.size() || !is_digit(rest[at])) return 1;
  const int exponent = rest[at] - '0';
  rest.remove_prefix(at + 1);
  return negative ? -exponent : exponent;
}

void skip_spaces(std::string_view& rest) {
  rest.remove_prefix(std::min(rest.find_first_not_of(' '), rest.size()));
}

// What stands between two symbols. False where nothing does.
bool take_joint(std::string_view& rest, bool& below) {
  const std::size_t before = rest.size();
  skip_spaces(rest);
  if (rest.starts_with('/')) {
    below = true;
    rest.remove_prefix(1);
  } else if (rest.starts_with('*') || rest.starts_with('-')) {
    rest.remove_prefix(1);
  }
  const bool joined = rest.size() < before;
  skip_spaces(rest);
  return joined;
}

void multiply(Unit& unit, const Symbol& symbol, int exponent) {
  unit.factor *= std::pow(symbol.factor, exponent);
  unit.ten += symbol.ten * exponent;
  unit.gauge = unit.gauge || symbol.gauge;
  for (std::size_t i = 0; i < unit.powers.size(); ++i) {
    unit.powers[i] += symbol.powers[i] * exponent;
  }
}

// "J/(kg K)": the brackets say what is the rule anyway.
bool take_brackets(std::string_view& rest) {
  if (!rest.starts_with('(') || !rest.ends_with(')')) return false;
  rest = rest.substr(1, rest.size() - 2);
  return true;
}

}  // namespace

double times_ten_to(double value, int ten) {
  const double scale = std::pow(10.0, std::abs(ten));
  return ten < 0 ? value / scale : value * scale;
}

UnitReading read_unit(std::string_view text) {
  Unit unit;
  std::string_view rest = text.starts_with("1/") ? text.substr(1) : text;
  bool below = false;
  bool bracketed = false;
  for (bool first = true; !rest.empty(); first = false) {
    const std::string_view here = rest;
    const bool due = !first || rest.starts_with('/');
    if (due && !take_joint(rest, below)) return {unit, here};
    if (below && !bracketed) bracketed = take_brackets(rest);
    const std::string_view start = rest;
    const std::optional<Symbol> symbol = find_symbol(take_symbol(rest));
    if (!symbol) return {unit, start.empty() ? here : start};
    const int exponent = take_exponent(rest);
    multiply(unit, *symbol, below ? -exponent : exponent);
    const bool alone = first && !due && rest.empty() && exponent == 1;
    if (alone) unit.zero = symbol->zero;
  }
  return {unit, {}};
}

}  // namespace grainwright
