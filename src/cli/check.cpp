// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "numbers.hpp"

namespace grainwright::cli {
namespace {

struct Named {
  Bound Wish::*bound;
  Limit limit;
};

const std::vector<Named>& wish_bounds() {
  using enum Dimension;
  static const std::vector<Named> bounds = {
      {&Wish::burn_time, {"wish.burn_time", "burn time", time, {}, {}, &Summary::burn_time}},
      {&Wish::total_impulse,
       {"wish.total_impulse", "total impulse", impulse, {}, {}, &Summary::total_impulse}},
      {&Wish::initial_thrust,
       {"wish.initial_thrust", "thrust at lighting", force, {}, {}, &Summary::initial_thrust}},
      {&Wish::mean_thrust,
       {"wish.mean_thrust", "mean thrust", force, {}, {}, &Summary::mean_thrust}},
      {&Wish::peak_thrust,
       {"wish.peak_thrust", "peak thrust", force, {}, {}, &Summary::peak_thrust}},
      {&Wish::rail_speed,
       {"wish.rail_speed", "rail exit speed", speed, {}, {}, {}, &Flight::rail_exit_speed}},
      {&Wish::thrust_to_weight,
       {"wish.thrust_to_weight",
        "thrust / weight at first motion",
        ratio,
        {},
        {},
        {},
        &Flight::thrust_to_weight}},
      {&Wish::apogee, {"wish.apogee", "apogee", distance, {}, {}, {}, &Flight::apogee}},
  };
  return bounds;
}

std::vector<Limit> all_limits(const Limits& limits) {
  using enum Dimension;
  return {{"limits.pressure", "peak pressure", pressure, true, limits.pressure,
           &Summary::peak_pressure},
          {"limits.pressure_floor", "lowest pressure", pressure, false, limits.pressure_floor,
           &Summary::lowest_pressure},
          {"limits.port_to_throat", "port-to-throat", ratio, false, limits.port_to_throat,
           &Summary::port_to_throat},
          {"limits.mass_flux", "peak mass flux", mass_flux, true, limits.mass_flux,
           &Summary::peak_mass_flux}};
}

}  // namespace

std::vector<Limit> set_limits(const Limits& limits) {
  std::vector<Limit> all = all_limits(limits);
  std::erase_if(all, [](const Limit& limit) {
    return limit.ceiling ? std::isinf(limit.value) : limit.value <= 0;
  });
  return all;
}

std::vector<Limit> set_bounds(const Wish& wish) {
  std::vector<Limit> set;
  for (const auto& [member, limit] : wish_bounds()) {
    for (bool ceiling : {false, true}) {
      Limit one = limit;
      one.ceiling = ceiling;
      one.value = ceiling ? (wish.*member).most : (wish.*member).least;
      if (std::isfinite(one.value)) set.push_back(one);
    }
  }
  return set;
}

Dimension dimension_of_limit(std::string_view key) {
  for (const Limit& limit : all_limits({})) {
    if (limit.key == key) return limit.dimension;
  }
  for (const Named& named : wish_bounds()) {
    if (key.starts_with(named.limit.key)) return named.limit.dimension;
  }
  return key == "casing.grain_room" || key.starts_with("shop.") ? Dimension::length
                                                                : Dimension::ratio;
}

bool Check::broken() const {
  return limit.ceiling ? value > limit.value : value < limit.value;
}

bool Check::near() const {
  return !broken() && std::abs(value - limit.value) <= near_limit * std::abs(limit.value);
}

std::vector<Check> checked(const std::vector<Limit>& limits, const Summary& summary) {
  std::vector<Check> checks;
  for (const Limit& limit : limits) {
    if (limit.figure == nullptr) continue;
    bool portless = limit.figure == &Summary::port_to_throat && summary.port_to_throat == 0;
    if (!portless) checks.push_back({limit, summary.*limit.figure});
  }
  return checks;
}

std::vector<Check> checked(const std::vector<Limit>& limits, const Flight& flight) {
  std::vector<Check> checks;
  for (const Limit& limit : limits) {
    if (limit.flown != nullptr) checks.push_back({limit, flight.*limit.flown});
  }
  return checks;
}

bool any_broken(const std::vector<Check>& checks) {
  return std::ranges::any_of(checks, &Check::broken);
}

std::string sentence(const Check& check, UnitSystem units) {
  const Limit& limit = check.limit;
  std::string_view name = limit.ceiling ? "ceiling" : "floor";
  std::string facts =
      fmt::format("{} {}, {} {}", limit.what, show(check.value, limit.dimension, units), name,
                  show(limit.value, limit.dimension, units));
  double share = check.value / limit.value;
  if (check.broken()) {
    return fmt::format("{}: {} the {} by {}", facts, limit.ceiling ? "OVER" : "UNDER", name,
                       percent(std::abs(share - 1)));
  }
  std::string distance =
      limit.ceiling ? percent(share) + " of it" : percent(share - 1) + " above it";
  return fmt::format("{}: {}{}", facts, distance,
                     check.near() ? fmt::format(", near the {}", name) : "");
}

std::string sentence(const Limit& limit, UnitSystem units) {
  return fmt::format("{} at {} {}", limit.what, limit.ceiling ? "most" : "least",
                     show(limit.value, limit.dimension, units));
}

}  // namespace grainwright::cli
