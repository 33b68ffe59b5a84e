// SPDX-License-Identifier: GPL-3.0-or-later
#include "schema.hpp"

#include <algorithm>
#include <numbers>

#include "grainwright/job/job.hpp"

namespace grainwright {
namespace {

using Form = ValueKind::Form;

constexpr ValueKind text{"text", Form::text};
constexpr ValueKind whole{"whole number", Form::whole};
constexpr ValueKind wholes{"list of whole numbers", Form::whole};
constexpr ValueKind faces{"list of texts", Form::free};
constexpr ValueKind profile{"text, or list of [fraction, thrust]", Form::free};
constexpr ValueKind length{"length", Form::quantity, Dimension::length};
constexpr ValueKind diameter{"length", Form::quantity, Dimension::length, true};
constexpr ValueKind lengths{"list of lengths", Form::quantity, Dimension::length};
constexpr ValueKind ratio{"number", Form::quantity, Dimension::ratio};
constexpr ValueKind rate{"burn rate", Form::quantity, Dimension::speed};
constexpr ValueKind speed{"speed", Form::quantity, Dimension::speed};
constexpr ValueKind pressure{"pressure", Form::quantity, Dimension::pressure};
constexpr ValueKind density{"density", Form::quantity, Dimension::density};
constexpr ValueKind temperature{"temperature", Form::quantity, Dimension::temperature};
constexpr ValueKind per_kelvin{"per temperature step", Form::quantity, Dimension::per_kelvin};
constexpr ValueKind molar_mass{"molar mass", Form::quantity, Dimension::molar_mass};
constexpr ValueKind angle{"angle", Form::quantity, Dimension::angle};
constexpr ValueKind mass_flux{"mass flux", Form::quantity, Dimension::mass_flux};
constexpr ValueKind time_bound{"time, or bounds", Form::quantity, Dimension::time};
constexpr ValueKind impulse_bound{"impulse, or bounds", Form::quantity, Dimension::impulse};
constexpr ValueKind force_bound{"force, or bounds", Form::quantity, Dimension::force};

constexpr Range any{"any"};
constexpr Range positive{"above 0", [](double v) { return v > 0; }};
constexpr Range not_negative{"0 or more", [](double v) { return v >= 0; }};
constexpr Range fraction{"above 0, up to 1", [](double v) { return v > 0 && v <= 1; }};
constexpr Range share{"from 0 to under 1", [](double v) { return v >= 0 && v < 1; }};
constexpr Range part{"from 0 to 1", [](double v) { return v >= 0 && v <= 1; }};
constexpr Range over_one{"above 1", [](double v) { return v > 1; }};
constexpr Range stable{"below 1: from 1 on no pressure is stable and the motor runs away",
                       [](double v) { return v < 1; }};
constexpr Range leads{"above 1, up to 2", [](double v) { return v > 1 && v <= 2; }};
constexpr Range cone{"from 0 to under 90 deg",
                     [](double v) { return v >= 0 && v < std::numbers::pi / 2; }};
constexpr Range warm{"above absolute zero", [](double v) { return v > 0; }};
constexpr Range counts{"1 to 1000", [](double v) { return v >= 1 && v <= 1000; }};
constexpr Range builds{"1 to 24", [](double v) { return v >= 1 && v <= 24; }};
constexpr Range ends{"0, 1 and 2", [](double v) { return v >= 0 && v <= 2; }};

constexpr std::string_view shipped_or_required = "the shipped value; an own propellant needs it";
constexpr std::string_view bound_meaning_tail = "a plain value is the least; { at_least, at_most }";

constexpr Rule all_rules[] = {
    {"job.title", text, "\"\"", any, "what the job is called in print"},
    {"job.units", text, "\"us\"", {"\"us\" or \"si\""}, "how results are printed"},

    {"casing.pipe",
     text,
     "none: bore and wall are needed",
     {"ASTM D1785 sizes 3/4 to 4, e.g. \"1-1/2 sch 40\""},
     "a standard pipe; gives its average bore and least wall"},
    {"casing.bore", length, "the pipe's", positive, "inside diameter; measure yours"},
    {"casing.wall", length, "the pipe's", positive, "least wall thickness"},
    {"casing.grain_room", length, "required", positive, "length for segments and spacers together"},
    {"casing.tube_wall", length, "\"0 mm\"", not_negative, "wall of the casting tube"},
    {"casing.fit", length, "\"0 mm\"", not_negative,
     "clearance of the casting tube in the bore, on the diameter"},

    {"propellant.name", text, "required", any,
     "a shipped propellant, whose data the other keys replace one by one; or any name"},
    {"propellant.density", density, shipped_or_required, positive, "ideal density, without voids"},
    {"propellant.density_ratio", ratio, "the shipped value, else 1", fraction,
     "as cast / ideal; weigh a segment to know yours"},
    {"propellant.characteristic_velocity", speed,
     "the shipped value; else from flame_temperature, molar_mass and gamma", positive,
     "c*, as delivered if you have measured it"},
    {"propellant.gamma", ratio, shipped_or_required, over_one,
     "ratio of specific heats of the mixture in the chamber"},
    {"propellant.expansion_gamma", ratio, "the shipped value, else gamma", over_one,
     "the same of the expanding exhaust; lower where it carries solids"},
    {"propellant.temperature_sensitivity", per_kelvin, "the shipped value, else 0", any,
     "growth of the burn rate per step of grain temperature, at constant pressure"},
    {"propellant.reference_temperature", temperature, "the shipped value, else \"20 degC\"", warm,
     "grain temperature at which the burn law was measured"},
    {"propellant.flame_temperature", temperature, "the shipped value, else unknown", warm,
     "in the chamber; given here without characteristic_velocity, c* is worked out from it"},
    {"propellant.molar_mass", molar_mass, "the shipped value, else unknown", positive,
     "effective, of the gas: mass of gas and solids / moles of gas"},
    {"propellant.law[].rate", rate, "required", positive, "burn rate at the pressure `at`"},
    {"propellant.law[].at", pressure, "\"1 MPa\"", positive, "absolute"},
    {"propellant.law[].n", ratio, "required", stable, "exponent: rate x (P / at)^n"},
    {"propellant.law[].from", pressure, "\"0 Pa\"", not_negative,
     "where this piece begins; pieces rise and meet"},
    {"propellant.law[].to", pressure, "no end", positive, "where this piece ends"},
    {"propellant.formula.*", ratio, "the shipped formula, else none", part,
     "mass fraction of the ingredient of that name; together 1"},

    {"nozzle.throat", length, "needed unless [shop] has throats to choose from", positive,
     "throat diameter"},
    {"nozzle.exit", length, "the throat: a straight hole", positive,
     "exit diameter, at least the throat"},
    {"nozzle.half_angle", angle, "\"0 deg\"", cone, "of the exit cone"},
    {"nozzle.efficiency", ratio, "1", fraction, "measured / ideal thrust coefficient"},

    {"segment[].count", whole, "1", counts, "so many alike next to each other"},
    {"segment[].length", length, "required", positive, "of the propellant"},
    {"segment[].core",
     diameter,
     "required",
     {"0 or more, under the outer diameter", [](double v) { return v >= 0; }},
     "core diameter; 0, which needs no unit, is a solid segment"},
    {"segment[].inhibited",
     faces,
     "[\"outer\"]",
     {"any of \"head\", \"nozzle\", \"core\", \"outer\"; one face must burn"},
     "faces that do not burn"},
    {"segment[].outer_diameter", length, "the casing's", positive,
     "of the propellant; only where there is no [casing], and then required"},

    {"day.temperature", temperature, "\"20 degC\"", warm, "of the grain when it is lit"},
    {"day.ambient_pressure", pressure, "\"101325 Pa\"", not_negative, "0 in vacuum"},

    {"limits.pressure", pressure, "no limit", positive,
     "ceiling on the highest chamber pressure, absolute"},
    {"limits.pressure_floor", pressure, "\"0 Pa\"", not_negative,
     "lowest chamber pressure while anything burns, absolute"},
    {"limits.port_to_throat", ratio, "0", not_negative,
     "smallest port area / throat area at lighting, at least"},
    {"limits.mass_flux", mass_flux, "no limit", positive, "in the busiest port, at most"},

    {"shop.mandrels", lengths, "none; a search needs some", positive,
     "diameters of the core rods that you own"},
    {"shop.throats", lengths, "none; a search needs some", positive,
     "throat diameters that you can drill"},
    {"shop.length_step", length, "none: any length", positive,
     "segment lengths are whole multiples of it"},
    {"shop.spacer", length, "\"0 mm\"", not_negative, "gap between neighbouring segments"},
    {"shop.most_segments", whole, "6", builds, "in one build"},
    {"shop.most_kinds", whole, "2", builds, "different segments in one build"},
    {"shop.shortest_segment", length, "\"0 mm\"", not_negative, "that you care to cast"},
    {"shop.longest_segment", length, "no limit", positive, "that you can cast"},
    {"shop.bare_ends", wholes, "[0, 1, 2]", ends, "how many ends of a segment may burn"},
    {"shop.kerf", length, "\"0 mm\"", not_negative, "width of the saw's cut"},
    {"shop.tube_stock", length, "unknown: no saw plan", positive,
     "length of the casting tube as bought"},
    {"shop.waste", ratio, "0", share, "part of the batch that is left in the pot"},
    {"shop.length_tolerance", length, "\"0 mm\"", not_negative,
     "of a segment's length, plus or minus"},
    {"shop.density_tolerance", ratio, "0.02", share, "of the cast density, plus or minus"},
    {"shop.mandrel_grip", length, "\"0 mm\"", not_negative,
     "core rod beyond each end of the segment"},

    {"wish.profile",
     profile,
     "\"flat\"",
     {"\"flat\", \"front-loaded\", or points such as [[0, 1.2], [1, 0.8]]: fractions rise from 0 "
      "to 1, thrusts 0 or more"},
     "thrust over the burn; points are fraction of burn time and relative thrust"},
    {"wish.lead", ratio, "required with \"front-loaded\", not allowed otherwise", leads,
     "thrust at lighting / mean thrust"},
    {"wish.loading", ratio, "0", part,
     "propellant volume / volume of the grain room at the grain's outer diameter, at least"},
    {"wish.burn_time", time_bound, "any", positive, bound_meaning_tail},
    {"wish.total_impulse", impulse_bound, "any", positive, bound_meaning_tail},
    {"wish.initial_thrust", force_bound, "any", positive, bound_meaning_tail},
    {"wish.mean_thrust", force_bound, "any", positive, bound_meaning_tail},
    {"wish.peak_thrust", force_bound, "any", positive, bound_meaning_tail},
};

}  // namespace

std::span<const Rule> rules() {
  return all_rules;
}

const Rule* find_rule(std::string_view path) {
  const auto found = std::ranges::find(rules(), path, &Rule::path);
  return found == rules().end() ? nullptr : &*found;
}

std::vector<std::string> names_under(std::string_view path) {
  std::vector<std::string> names;
  for (const Rule& rule : rules()) {
    std::string_view rest = rule.path;
    if (!path.empty()) {
      if (!rest.starts_with(path) || rest.size() <= path.size() || rest[path.size()] != '.')
        continue;
      rest.remove_prefix(path.size() + 1);
    }
    const std::string name(rest.substr(0, rest.find_first_of(".[")));
    if (names.empty() || names.back() != name) names.push_back(name);
  }
  return names;
}

std::string table_with(std::string_view key) {
  for (const Rule& rule : rules()) {
    const std::size_t dot = rule.path.rfind('.');
    if (rule.path.substr(dot + 1) == key) return std::string(rule.path.substr(0, dot));
  }
  return "";
}

const std::vector<JobKey>& job_keys() {
  static const std::vector<JobKey> keys = [] {
    std::vector<JobKey> all;
    for (const Rule& rule : rules()) {
      all.push_back({rule.path, rule.kind.words, rule.standing, rule.range.words, rule.meaning});
    }
    return all;
  }();
  return keys;
}

}  // namespace grainwright
