// SPDX-License-Identifier: GPL-3.0-or-later
#include "propellant_reader.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <utility>

#include "grainwright/motor/gas.hpp"

namespace grainwright {
namespace {

using Number = std::pair<std::string_view, std::optional<double> PropellantDraft::*>;

constexpr std::array<Number, 9> numbers = {{
    {"density", &PropellantDraft::density},
    {"density_ratio", &PropellantDraft::density_ratio},
    {"characteristic_velocity", &PropellantDraft::characteristic_velocity},
    {"gamma", &PropellantDraft::gamma},
    {"expansion_gamma", &PropellantDraft::expansion_gamma},
    {"temperature_sensitivity", &PropellantDraft::temperature_sensitivity},
    {"reference_temperature", &PropellantDraft::reference_temperature},
    {"flame_temperature", &PropellantDraft::flame_temperature},
    {"molar_mass", &PropellantDraft::molar_mass},
}};

void read_law(Section& propellant, PropellantDraft& draft) {
  for (Section& section : propellant.tables_at("law")) {
    LawPiece piece;
    draft.law_without_at = draft.law_without_at || !section.has("at");
    section.read("rate", piece.rate);
    section.read("at", piece.at);
    section.read("n", piece.exponent);
    section.read("from", piece.from);
    section.read("to", piece.to);
    draft.law.push_back(piece);
  }
}

std::vector<Ingredient> read_formula(Section& propellant) {
  std::vector<Ingredient> formula;
  auto section = propellant.table_at("formula");
  if (!section) return formula;
  for (const Entry& entry : section->table().entries) {
    Ingredient ingredient{entry.key, 0};
    section->read(entry.key, ingredient.mass_fraction);
    formula.push_back(ingredient);
  }
  return formula;
}

std::optional<Erosion> read_erosion(Section& propellant) {
  auto section = propellant.table_at("erosion");
  if (!section) return std::nullopt;
  Erosion erosion;
  section->read("alpha", erosion.alpha);
  section->read("beta", erosion.beta);
  return erosion;
}

std::vector<std::string> read_texts(Section& section, std::string_view key) {
  std::vector<std::string> texts;
  const Node* node = section.value(key);
  if (node == nullptr) return texts;
  const auto is_text = [](const Node& item) { return item.form == Node::Form::text; };
  if (node->form != Node::Form::list || !std::ranges::all_of(node->items, is_text)) {
    section.complain(key, node->words(), "a list of texts, such as [\"a.csv\", \"b.csv\"]");
    return texts;
  }
  for (const Node& item : node->items) texts.push_back(item.text);
  return texts;
}

std::optional<Measured> read_measured(Section& propellant) {
  auto section = propellant.table_at("measured");
  if (!section) return std::nullopt;
  Measured measured;
  section->read("date", measured.date);
  measured.logs = read_texts(*section, "logs");
  section->read("at", measured.at);
  section->read("rate_error", measured.rate_error);
  section->read("n_error", measured.n_error);
  section->read("correlation", measured.correlation);
  section->read("efficiency_error", measured.efficiency_error);
  section->read("characteristic_velocity_error", measured.characteristic_velocity_error);
  section->read("doubtful", measured.doubtful);
  return measured;
}

std::optional<WebFactor> read_web_factor(Section& propellant) {
  auto section = propellant.table_at("web_factor");
  if (!section) return std::nullopt;
  WebFactor factor;
  section->read("start", factor.start);
  section->read("middle", factor.middle);
  section->read("end", factor.end);
  return factor;
}

std::optional<double> characteristic_velocity_of(const PropellantDraft& draft) {
  if (draft.characteristic_velocity) return draft.characteristic_velocity;
  if (!draft.flame_temperature || !draft.molar_mass || !draft.gamma) return std::nullopt;
  return characteristic_velocity(*draft.flame_temperature, *draft.molar_mass, *draft.gamma);
}

/// A name without data of its own is meant to be a shipped one.
std::nullopt_t refuse_name(const std::string& name, const std::vector<PropellantDraft>& shipped,
                           Section& section) {
  std::vector<std::string> names;
  for (const PropellantDraft& draft : shipped) names.push_back(draft.name);
  const std::string meant = nearest(name, names);
  const std::string hint = meant.empty() ? "" : fmt::format("did you mean \"{}\"? ", meant);
  if (!name.empty()) {
    section.complain("name", '"' + name + '"',
                     fmt::format("{}a shipped propellant ({}), or a density and a "
                                 "[[propellant.law]] of its own",
                                 hint, fmt::join(names, ", ")));
  }
  return std::nullopt;
}

}  // namespace

PropellantDraft read_draft(Section& section) {
  PropellantDraft draft;
  section.read("name", draft.name);
  for (const auto& [key, member] : numbers) section.read(key, draft.*member);
  read_law(section, draft);
  draft.formula = read_formula(section);
  draft.erosion = read_erosion(section);
  draft.measured = read_measured(section);
  draft.web_factor = read_web_factor(section);
  return draft;
}

PropellantDraft over(PropellantDraft draft, const PropellantDraft& under) {
  // A new flame or gas without a new c* means that c* follows from it.
  const bool new_gas = draft.flame_temperature || draft.molar_mass;
  for (const auto& [key, member] : numbers) {
    if (new_gas && member == &PropellantDraft::characteristic_velocity) continue;
    if (!(draft.*member)) draft.*member = under.*member;
  }
  if (draft.law.empty()) draft.law = under.law;
  if (draft.formula.empty()) draft.formula = under.formula;
  if (!draft.erosion) draft.erosion = under.erosion;
  return draft;
}

std::optional<Propellant> finished(const PropellantDraft& draft, Section& section) {
  const std::string why = "a propellant that does not ship with the program needs it";
  const auto c_star = characteristic_velocity_of(draft);
  if (!draft.density) section.require({"density"}, why);
  if (!draft.gamma) section.require({"gamma"}, why);
  if (!c_star) section.require({"characteristic_velocity"}, "or flame_temperature and molar_mass");
  if (draft.law.empty()) section.complain("law", "missing", "[[propellant.law]]; " + why);
  if (!section.sound()) return std::nullopt;
  if (const auto found = complaints(draft.law); !found.empty()) {
    section.adopt(found);
    return std::nullopt;
  }
  Propellant propellant{.name = draft.name, .law = BurnLaw(draft.law), .formula = draft.formula};
  propellant.ideal_density = *draft.density;
  propellant.density_ratio = draft.density_ratio.value_or(propellant.density_ratio);
  propellant.characteristic_velocity = *c_star;
  propellant.gamma = *draft.gamma;
  propellant.expansion_gamma = draft.expansion_gamma.value_or(*draft.gamma);
  propellant.temperature_sensitivity =
      draft.temperature_sensitivity.value_or(propellant.temperature_sensitivity);
  propellant.sensitivity_known = draft.temperature_sensitivity.has_value();
  propellant.reference_temperature =
      draft.reference_temperature.value_or(propellant.reference_temperature);
  propellant.flame_temperature = draft.flame_temperature.value_or(propellant.flame_temperature);
  propellant.erosion = draft.erosion;
  propellant.measured = draft.measured;
  propellant.web_factor = draft.web_factor;
  propellant.molar_mass = draft.molar_mass.value_or(propellant.molar_mass);
  section.adopt(complaints(propellant));
  if (!section.sound()) return std::nullopt;
  return propellant;
}

std::optional<Propellant> read_propellant(Section& section, std::vector<Assumption>& assumed) {
  PropellantDraft draft = read_draft(section);
  if (draft.law_without_at) {
    assumed.push_back({"propellant.law.at", "the burn law's rate is that at 1 MPa abs"});
  }
  const std::vector<PropellantDraft> shipped = shipped_drafts();
  const auto same = std::ranges::find(shipped, draft.name, &PropellantDraft::name);
  if (same != shipped.end()) {
    draft = over(draft, *same);
  } else if (!section.has("density") || !section.has("law")) {
    return refuse_name(draft.name, shipped, section);
  }
  if (!section.sound()) return std::nullopt;
  return finished(draft, section);
}

}  // namespace grainwright
