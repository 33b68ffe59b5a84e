// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "document.hpp"
#include "grainwright/job/job.hpp"
#include "propellant_reader.hpp"

namespace grainwright {
namespace {

/// Calls `use` with each table of the shipped data.
template <typename Use>
void each_shipped(Use use) {
  Findings findings{.file = "propellants.toml", .sourced = true};
  const Node document = parse_document(shipped_propellant_data, findings.file);
  for (const Node& item : document.find("propellant")->value.items) {
    Section section(findings, item, "propellant", "propellant.");
    use(section);
  }
  findings.throw_if_any();
}

}  // namespace

std::vector<PropellantDraft> shipped_drafts() {
  std::vector<PropellantDraft> drafts;
  each_shipped([&](Section& section) { drafts.push_back(read_draft(section)); });
  return drafts;
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
