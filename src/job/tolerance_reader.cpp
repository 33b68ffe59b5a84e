// SPDX-License-Identifier: GPL-3.0-or-later
#include "tolerance_reader.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <optional>

namespace grainwright {
namespace {

using Form = Node::Form;

struct Width {
  double value = 0;
  bool share = true;
};

/// "5 %" of the quantity, or a width in its own unit where it may have one.
std::optional<Width> read_width(Section& section, std::string_view key, const Node& node,
                                Dimension own) {
  const Rule& rule = *find_rule("tolerance." + std::string(key));
  const bool may_be_share = rule.range.words.find("share") != std::string_view::npos;
  const auto as = [&](Dimension dimension) -> std::optional<double> {
    if (dimension == Dimension::ratio && node.form != Form::text) {
      const bool plain = node.form == Form::whole || node.form == Form::real;
      return plain ? std::optional(node.number) : std::nullopt;
    }
    try {
      return read_quantity(node.text, dimension);
    } catch (const InputError&) {
      return std::nullopt;
    }
  };
  if (const auto share = may_be_share ? as(Dimension::ratio) : std::nullopt) {
    if (*share >= 0 && *share < 1) return Width{*share, true};
  } else if (const auto width = own != Dimension::ratio ? as(own) : std::nullopt) {
    if (*width >= 0) return Width{*width, false};
  }
  section.complain(key, node.words(), std::string(rule.range.words));
  return std::nullopt;
}

/// { sigma = ... } or { limits = ... }, with a distribution.
std::optional<Spread> read_table(Section& section, std::string_view key, const Node& table,
                                 Dimension own) {
  const auto refuse = [&](const std::string& what, const std::string& given,
                          const std::string& allowed) {
    section.complain(what.empty() ? std::string(key) : fmt::format("{}.{}", key, what), given,
                     allowed);
    return std::nullopt;
  };
  for (const Entry& entry : table.entries) {
    const std::array known = {"sigma", "limits", "distribution"};
    if (std::ranges::find(known, entry.key) == known.end()) {
      return refuse(entry.key, "unknown key", "sigma or limits, and distribution");
    }
  }
  const Entry* sigma = table.find("sigma");
  const Entry* limits = table.find("limits");
  if ((sigma == nullptr) == (limits == nullptr)) {
    return refuse("", table.words(), "either sigma (one standard deviation) or limits");
  }
  Distribution distribution = limits == nullptr ? Distribution::normal : Distribution::uniform;
  if (const Entry* named = table.find("distribution")) {
    const auto found = distribution_named(named->value.text);
    if (!found) {
      return refuse("distribution", named->value.words(), R"("normal", "uniform" or "triangular")");
    }
    distribution = *found;
  }
  const auto width =
      read_width(section, key, limits == nullptr ? sigma->value : limits->value, own);
  if (!width) return std::nullopt;
  if (limits != nullptr) return Spread::within(distribution, width->value, width->share);
  return Spread{distribution, width->value, width->share};
}

void read_spread(Section& section, std::string_view key, Spread& target) {
  const Node* node = section.value(key);
  if (node == nullptr) return;
  const Dimension own = find_rule("tolerance." + std::string(key))->kind.dimension;
  if (node->form == Form::table) {
    target = read_table(section, key, *node, own).value_or(target);
  } else if (const auto width = read_width(section, key, *node, own)) {
    target = {Distribution::normal, width->value, width->share};
  }
}

std::optional<FaultKind> read_kind(Section& section) {
  std::string name;
  section.read("kind", name);
  const auto found = std::ranges::find_if(all_fault_kinds(),
                                          [&](FaultKind kind) { return name_of(kind) == name; });
  if (found != all_fault_kinds().end()) return *found;
  if (section.has("kind")) {
    section.complain("kind", section.value("kind")->words(),
                     std::string(find_rule("fault[].kind")->range.words));
  }
  return std::nullopt;
}

void read_face(Section& section, Fault& fault) {
  std::string name;
  section.read("face", name);
  const auto face =
      std::ranges::find(all_faces, name, [](Face known) { return std::string(name_of(known)); });
  if (face != all_faces.end()) {
    fault.face = *face;
  } else if (section.has("face")) {
    section.complain("face", section.value("face")->words(),
                     R"("head", "nozzle", "core" or "outer")");
  }
}

/// Which keys a kind needs; it takes no others of these.
void check_keys_of(Section& section, FaultKind kind) {
  using Kind = FaultKind;
  struct Use {
    std::string_view key;
    std::vector<Kind> kinds;
    bool needed;
  };
  static const std::vector<Kind> segments = {Kind::face_lights, Kind::face_blocked, Kind::crack,
                                             Kind::debond, Kind::wrong_core};
  static const std::array<Use, 6> uses = {{
      {"face", {Kind::face_lights, Kind::face_blocked}, true},
      {"extra_area", {Kind::crack}, true},
      {"throat", {Kind::wrong_throat}, true},
      {"core", {Kind::wrong_core}, true},
      {"segment", segments, false},
      {"pieces", segments, false},
  }};
  for (const Use& use : uses) {
    const bool takes = std::ranges::find(use.kinds, kind) != use.kinds.end();
    if (takes && use.needed)
      section.require({use.key}, fmt::format("\"{}\" needs it", name_of(kind)));
    if (!takes && section.has(use.key)) {
      section.complain(use.key, section.value(use.key)->words(),
                       fmt::format("nothing: a fault of kind \"{}\" has none", name_of(kind)));
    }
  }
}

}  // namespace

Tolerances read_tolerances(Section& section) {
  Tolerances tolerances;
  for (const NamedTolerance& tolerance : named_tolerances()) {
    read_spread(section, tolerance.key, tolerances.*tolerance.spread);
  }
  return tolerances;
}

std::vector<Fault> read_faults(Section& root) {
  std::vector<Fault> faults;
  for (Section& section : root.tables_at("fault")) {
    Fault fault;
    const auto kind = read_kind(section);
    int segment = 1;
    section.read("probability", fault.probability);
    section.read("segment", segment);
    section.read("pieces", fault.pieces);
    read_face(section, fault);
    section.read("extra_area", fault.extra_area);
    section.read("throat", fault.diameter);
    section.read("core", fault.diameter);
    fault.layer = static_cast<std::size_t>(segment - 1);
    fault.kind = kind.value_or(fault.kind);
    if (kind) check_keys_of(section, *kind);
    faults.push_back(fault);
  }
  return faults;
}

}  // namespace grainwright
