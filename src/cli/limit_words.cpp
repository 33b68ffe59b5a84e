// SPDX-License-Identifier: GPL-3.0-or-later
#include "limit_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "numbers.hpp"

namespace grainwright::cli {
namespace {

template <class Wanted>
std::vector<Check> those(const std::vector<Check>& checks, Wanted wanted) {
  std::vector<Check> chosen;
  for (const Check& check : checks) {
    if (wanted(*check.limit.row)) chosen.push_back(check);
  }
  return chosen;
}

bool flown(const LimitRow& row) {
  return row.row().of == FigureOf::flight;
}

bool wished(const LimitRow& row) {
  return row.key.starts_with("wish.");
}

}  // namespace

Dimension dimension_of_limit(std::string_view key) {
  if (const LimitRow* row = limit_row(key)) return row->row().dimension;
  return key.starts_with("shop.") ? Dimension::length : Dimension::ratio;
}

std::vector<Check> worth_saying(const std::vector<Check>& checks) {
  std::vector<Check> chosen;
  for (const Check& check : checks) {
    if (check.broken() || check.limit.row->key != "casing.grain_room") chosen.push_back(check);
  }
  return chosen;
}

std::vector<Check> of_limits(const std::vector<Check>& checks) {
  return those(checks, [](const LimitRow& row) { return row.key.starts_with("limits."); });
}

std::vector<Check> of_firing(const std::vector<Check>& checks) {
  return those(checks, [](const LimitRow& row) { return wished(row) && !flown(row); });
}

std::vector<Check> of_flight(const std::vector<Check>& checks) {
  return those(checks, flown);
}

std::string sentence(std::string_view what, double value, bool ceiling, double limit,
                     Dimension dimension, UnitSystem units) {
  const Check check{{nullptr, ceiling, limit}, value};
  const std::string_view name = ceiling ? "ceiling" : "floor";
  const std::string facts = fmt::format("{} {}, {} {}", what, show(value, dimension, units), name,
                                        show(limit, dimension, units));
  const double share = value / limit;
  if (check.broken()) {
    return fmt::format("{}: {} the {} by {}", facts, ceiling ? "OVER" : "UNDER", name,
                       percent(std::abs(share - 1)));
  }
  const std::string distance =
      ceiling ? percent(share) + " of it" : percent(share - 1) + " above it";
  return fmt::format("{}: {}{}", facts, distance,
                     check.near() ? fmt::format(", near the {}", name) : "");
}

std::string sentence(const Check& check, UnitSystem units) {
  const FigureRow& figure = check.limit.row->row();
  return sentence(figure.label, check.value, check.limit.ceiling, check.limit.value,
                  figure.dimension, units);
}

std::string sentence(const Limit& limit, UnitSystem units) {
  const FigureRow& figure = limit.row->row();
  return fmt::format("{} at {} {}", figure.label, limit.ceiling ? "most" : "least",
                     show(limit.value, figure.dimension, units));
}

}  // namespace grainwright::cli
