// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "document.hpp"
#include "grainwright/job/job.hpp"
#include "material_reader.hpp"
#include "propellant_reader.hpp"

namespace grainwright {
namespace {

/// Calls `use` with each table of a shipped file, whose keys are those of `path` in the schema.
template <typename Use>
void each_of(std::string_view data, const std::string& table, const std::string& path, Use use) {
  Findings findings{.file = table + "s.toml", .sourced = true};
  const Node document = parse_document(data, findings.file);
  for (const Node& item : document.find(table)->value.items) {
    Section section(findings, item, path, table + ".");
    use(section);
  }
  findings.throw_if_any();
}

template <typename Use>
void each_shipped(Use use) {
  each_of(shipped_propellant_data, "propellant", "propellant", use);
}

}  // namespace

std::vector<PropellantDraft> shipped_drafts() {
  std::vector<PropellantDraft> drafts;
  each_shipped([&](Section& section) { drafts.push_back(read_draft(section)); });
  return drafts;
}

const std::vector<Material>& shipped_material_list() {
  static const std::vector<Material> materials = [] {
    std::vector<Material> all;
    each_of(shipped_material_data, "material", "material[]",
            [&](Section& section) { all.push_back(read_material(section, {})); });
    return all;
  }();
  return materials;
}

std::vector<std::string> shipped_materials() {
  std::vector<std::string> names;
  for (const Material& material : shipped_material_list()) names.push_back(material.name);
  return names;
}

std::optional<Material> shipped_material(std::string_view name) {
  const auto& all = shipped_material_list();
  const auto found = std::ranges::find(all, name, &Material::name);
  return found == all.end() ? std::nullopt : std::optional(*found);
}

std::vector<std::string> shipped_propellants() {
  std::vector<std::string> names;
  for (const PropellantDraft& draft : shipped_drafts()) names.push_back(draft.name);
  return names;
}

std::optional<Propellant> shipped_propellant(std::string_view name) {
  std::optional<Propellant> propellant;
  each_shipped([&](Section& section) {
    const PropellantDraft draft = read_draft(section);
    if (draft.name == name) propellant = finished(draft, section);
  });
  return propellant;
}

}  // namespace grainwright
