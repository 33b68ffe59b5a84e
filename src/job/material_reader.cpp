// SPDX-License-Identifier: GPL-3.0-or-later
#include "material_reader.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <utility>

namespace grainwright {
namespace {

using Form = Node::Form;
using Number = std::pair<std::string_view, double Material::*>;

constexpr std::array<Number, 9> numbers = {{
    {"conductivity", &Material::conductivity},
    {"density", &Material::density},
    {"specific_heat", &Material::specific_heat},
    {"yield", &Material::yield},
    {"ultimate", &Material::ultimate},
    {"shear", &Material::shear},
    {"bearing", &Material::bearing},
    {"rating_stress", &Material::rating_stress},
    {"burst_stress", &Material::burst_stress},
}};

/// Calls `use` with the two values of each pair in a list; notes what is no list of pairs.
template <class Use>
void each_pair(Section& section, std::string_view key, std::string_view example, Use use) {
  const Node* list = section.value(key);
  if (list == nullptr) return;
  const bool pairs = list->form == Form::list && std::ranges::all_of(list->items, &Node::is_pair);
  if (!pairs) return section.complain(key, list->words(), "a list such as " + std::string(example));
  for (const Node& item : list->items) use(item.items[0], item.items[1]);
}

void read_strengths(Section& section, std::vector<StrengthPoint>& target) {
  std::vector<StrengthPoint> points;
  each_pair(section, "strength_at", R"([["20 degC", 1], ["60 degC", 0.2]])",
            [&](const Node& temperature, const Node& share) {
              const auto kelvin = section.number("strength_at", temperature);
              if (!share.is_number()) {
                section.complain("strength_at", share.words(), "a plain number from 0 to 1");
              } else if (kelvin) {
                points.push_back({*kelvin, share.number});
              }
            });
  if (section.has("strength_at")) target = points;
}

void read_cure(Section& section, std::vector<CurePoint>& target) {
  std::vector<CurePoint> points;
  each_pair(section, "cure", R"([["2 h", "250 psi"], ["16 h", "500 psi"]])",
            [&](const Node& time, const Node& shear) {
              const auto seconds = section.number("cure", time);
              try {
                const double stress = read_quantity(shear.text, Dimension::pressure);
                if (seconds) points.push_back({*seconds, stress});
              } catch (const InputError& error) {
                const Complaint& complaint = error.complaints().front();
                section.complain("cure", shear.words(), complaint.allowed);
              }
            });
  if (section.has("cure")) target = points;
}

}  // namespace

std::optional<Material> material_named(Section& section, std::string_view key,
                                       const std::string& name,
                                       const std::vector<Material>& known) {
  const auto found = std::ranges::find(known, name, &Material::name);
  if (found != known.end()) return *found;
  std::vector<std::string> names;
  for (const Material& material : known) names.push_back(material.name);
  const std::string meant = nearest(name, names);
  section.complain(key, '"' + name + '"',
                   meant.empty() ? fmt::format("one of {}, or a [[material]] of your own",
                                               fmt::join(names, ", "))
                                 : fmt::format("did you mean \"{}\"?", meant));
  return std::nullopt;
}

Material read_material(Section& section, const std::vector<Material>& known) {
  Material material;
  std::string like;
  section.read("like", like);
  if (!like.empty()) material = material_named(section, "like", like, known).value_or(material);
  section.read("name", material.name);
  std::string source;
  section.read("source", source);
  for (const auto& [key, member] : numbers) section.read(key, material.*member);
  read_strengths(section, material.strength_at);
  read_cure(section, material.cure);
  section.read("caution", material.caution);
  if (section.sound()) section.adopt(complaints(material));
  return material;
}

std::vector<Material> read_materials(Section& root) {
  std::vector<Material> known = shipped_material_list();
  for (Section& section : root.tables_at("material")) {
    const Material material = read_material(section, known);
    std::erase_if(known, [&](const Material& old) { return old.name == material.name; });
    known.push_back(material);
  }
  return known;
}

}  // namespace grainwright
