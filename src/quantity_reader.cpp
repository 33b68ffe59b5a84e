// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

#include "grainwright/error.hpp"
#include "grainwright/quantity.hpp"
#include "kind.hpp"
#include "unit.hpp"

namespace grainwright {
namespace {

Powers powers_of(const Kind& kind) {
  return read_unit(kind.base).unit.powers;
}

constexpr std::size_t longest_text = 200;  // nothing that a person means is longer
constexpr std::size_t longest_quote = 60;

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

// The same in printable ASCII. Signs that people type are spelled out, and every other character
// becomes '?', so that a complaint can show hostile text on a terminal.
std::string spelled_out(std::string_view text) {
  static constexpr std::pair<std::string_view, std::string_view> spellings[] = {
      {"\u00b0", "deg"}, {"\u00ba", "deg"}, {"\u2103", "degC"}, {"\u2109", "degF"},
      {"\u00b5", "u"},   {"\u03bc", "u"},   {"\u00b2", "2"},    {"\u00b3", "3"},
      {"\u00b7", "*"},   {"\u22c5", "*"},   {"\u2212", "-"},    {"\u2044", "/"},
      {"\u2033", "in"},  {"\"", "in"},      {"\u00a0", " "},    {"\u202f", " "},
      {"\u2009", " "},   {"\t", " "},       {"deg C", "degC"},  {"deg F", "degF"},
  };
  std::string plain(text.substr(0, longest_text));
  for (const auto& [from, to] : spellings) replace_all(plain, from, to);
  std::erase_if(plain, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; });
  std::ranges::replace_if(
      plain, [](char c) { return c < ' ' || c > '~'; }, '?');
  return plain;
}

std::string_view trimmed(std::string_view text) {
  const auto from = text.find_first_not_of(' ');
  return from == std::string_view::npos ? std::string_view{}
                                        : text.substr(from, text.find_last_not_of(' ') - from + 1);
}

bool begins_with_digit(std::string_view text) {
  return !text.empty() && text.front() >= '0' && text.front() <= '9';
}

/// A number as written; `decimal` is empty where it was a fraction.
struct Number {
  double value = 0;
  std::string_view decimal;
};

/// Reads one quantity and knows how to refuse it.
class Reader {
 public:
  Reader(std::string_view text, Dimension dimension)
      : text_(spelled_out(text)),
        rest_(trimmed(text_)),
        too_long_(text.size() > longest_text),
        dimension_(dimension) {}

  double read();

 private:
  [[noreturn]] void refuse(const std::string& why) const;
  double take_double();
  std::optional<double> take_fraction();
  std::optional<double> take_fraction_after_whole();
  Number take_number();
  Unit take_unit();
  void check_kind(const Unit& unit) const;

  std::string text_;
  std::string_view rest_;
  bool too_long_;
  Dimension dimension_;
};

void Reader::refuse(const std::string& why) const {
  const std::string_view whole = trimmed(text_);
  const bool cut = whole.size() > longest_quote;
  throw InputError(
      "", fmt::format("\"{}{}\" {}", whole.substr(0, longest_quote), cut ? "..." : "", why),
      std::string(example_of(dimension_)));
}

// Digits stand at the front, so "inf", "nan" and hexadecimal forms never get here.
double Reader::take_double() {
  double value = 0;
  const char* end = rest_.data() + rest_.size();
  const auto [stop, error] = std::from_chars(rest_.data(), end, value);
  if (error == std::errc::result_out_of_range) refuse("is too large or too small");
  if (error != std::errc{}) refuse("does not begin with a number");
  rest_.remove_prefix(static_cast<std::size_t>(stop - rest_.data()));
  return value;
}

// "7/16", digits on both sides; takes nothing where there is no such thing.
std::optional<double> Reader::take_fraction() {
  const auto stroke = rest_.find_first_not_of("0123456789");
  if (stroke == 0 || stroke == std::string_view::npos || rest_[stroke] != '/' ||
      !begins_with_digit(rest_.substr(stroke + 1))) {
    return std::nullopt;
  }
  const double above = take_double();
  rest_.remove_prefix(1);
  const std::string_view below = rest_.substr(0, rest_.find_first_not_of("0123456789"));
  const double divisor = take_double();
  if (rest_.data() != below.data() + below.size()) refuse("is not a fraction of whole numbers");
  if (divisor == 0) refuse("divides by zero");
  return above / divisor;
}

// " 7/16" or "-7/16".
std::optional<double> Reader::take_fraction_after_whole() {
  const std::string_view before = rest_;
  const std::size_t gap = rest_.starts_with('-') ? 1 : rest_.find_first_not_of(' ');
  if (gap == 0 || gap == std::string_view::npos) return std::nullopt;
  rest_.remove_prefix(gap);
  const std::optional<double> fraction = take_fraction();
  if (!fraction) rest_ = before;
  if (fraction && *fraction >= 1) refuse("has a fraction of 1 or more after the whole number");
  return fraction;
}

Number Reader::take_number() {
  const double sign = rest_.starts_with('-') ? -1 : 1;
  if (rest_.starts_with('-') || rest_.starts_with('+')) rest_.remove_prefix(1);
  if (const auto fraction = take_fraction()) return {sign * *fraction, {}};
  if (!begins_with_digit(rest_) &&
      !(rest_.starts_with('.') && begins_with_digit(rest_.substr(1)))) {
    refuse("does not begin with a number");
  }
  const std::string_view start = rest_;
  const double value = take_double();
  const std::string_view decimal = start.substr(0, start.size() - rest_.size());
  if (rest_.starts_with(',')) refuse("has a comma; the decimal mark is a point");
  if (decimal.find_first_not_of("0123456789") == std::string_view::npos) {
    if (const auto fraction = take_fraction_after_whole()) return {sign * (value + *fraction), {}};
  }
  return {sign * value, decimal};
}

// Moves the point in the written number rather than multiplying, so that nothing is rounded twice.
double moved(const Number& number, int ten) {
  if (ten == 0 || number.value == 0) return number.value;
  if (number.decimal.empty()) return times_ten_to(number.value, ten);
  const auto e = std::min(number.decimal.find_first_of("eE"), number.decimal.size());
  int written = 0;
  if (e < number.decimal.size()) {
    const auto skip = number.decimal.substr(e + 1).starts_with('+') ? e + 2 : e + 1;
    std::from_chars(number.decimal.data() + skip, number.decimal.data() + number.decimal.size(),
                    written);
  }
  const std::string text = fmt::format("{}e{}", number.decimal.substr(0, e), written + ten);
  double value = 0;
  const auto result = std::from_chars(text.data(), text.data() + text.size(), value);
  if (result.ec != std::errc{}) return times_ten_to(number.value, ten);
  return std::copysign(value, number.value);
}

Unit Reader::take_unit() {
  const std::string_view text = trimmed(rest_);
  if (text.empty() && dimension_ != Dimension::ratio) refuse("has no unit");
  const auto [unit, unread] = read_unit(text);
  if (!unread.empty()) {
    refuse(fmt::format("has a unit that is not known: \"{}\"", unread.substr(0, longest_quote)));
  }
  if (unit.gauge) {
    refuse(
        "is a gauge pressure; add that of the air, about 14.7 psi or 0.101 MPa, and say psi or "
        "MPa");
  }
  check_kind(unit);
  return unit;
}

void Reader::check_kind(const Unit& unit) const {
  if (unit.powers == powers_of(kind_of(dimension_))) return;
  const auto kind =
      std::ranges::find_if(all_kinds(), [&](const Kind& k) { return powers_of(k) == unit.powers; });
  if (kind == all_kinds().end()) refuse("is of no kind that is asked for anywhere");
  const bool vowel = std::string_view("aeiou").find(kind->name.front()) != std::string_view::npos;
  std::string why = fmt::format("is {} {}", vowel ? "an" : "a", kind->name);
  if (dimension_ == Dimension::force && kind->dimension == Dimension::mass) {
    why += " (pounds of force are lbf)";
  }
  if (dimension_ == Dimension::mass && kind->dimension == Dimension::force) {
    why += " (pounds of mass are lb)";
  }
  refuse(why);
}

double Reader::read() {
  if (rest_.empty()) throw InputError("", "nothing", std::string(example_of(dimension_)));
  if (too_long_) refuse("is too long");
  const Number number = take_number();
  const Unit unit = take_unit();
  const double zero = dimension_ == Dimension::temperature ? unit.zero : 0;
  const double value = (moved(number, unit.ten) + zero) * unit.factor;
  if (!std::isfinite(value)) refuse("is too large");
  return value;
}

}  // namespace

double read_quantity(std::string_view text, Dimension dimension) {
  return Reader(text, dimension).read();
}

}  // namespace grainwright
