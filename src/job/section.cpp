// SPDX-License-Identifier: GPL-3.0-or-later
#include "section.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>

namespace grainwright {
namespace {

using Form = Node::Form;

std::string listed(const std::vector<std::string>& names) {
  return fmt::format("{}", fmt::join(names, ", "));
}

/// What a key takes, for a value of the wrong form.
std::string asked_for(const Rule& rule) {
  switch (rule.kind.form) {
    case ValueKind::Form::quantity:
      return std::string(example_of(rule.kind.dimension));
    case ValueKind::Form::whole:
      return fmt::format("a whole number, {}", rule.range.words);
    case ValueKind::Form::text:
    case ValueKind::Form::free:
      break;
  }
  return fmt::format("{}: {}", rule.kind.words, rule.range.words);
}

/// Sizes that somebody can mean; 0 is one too. What lies beyond is a slip of the pen, and numbers
/// so far apart would leave nothing of the arithmetic.
struct Reach {
  double least = 0;  // SI
  double most = 0;
  std::string_view words;
  [[nodiscard]] bool holds(double number, bool bounded) const {
    const double size = std::abs(number);
    return size == 0 || (size >= least && (bounded || size <= most));
  }
};

Reach reach_of(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return {1e-6, 1000, "from 0.001 mm to 1000 m in size"};
    case Dimension::area:
      return {1e-9, 100, "from 0.001 mm2 to 100 m2 in size"};
    case Dimension::volume:
      return {1e-9, 1000, "from 1 mm3 to 1000 m3 in size"};
    default:
      return {1e-12, 1e12, "from 1e-12 to 1e12 SI units in size"};
  }
}

/// Where a lower room's key leads: step by step down as far as the document goes.
struct Found {
  Position at;
  const Node* value = nullptr;  ///< null where only a table on the way was found
};

Found locate(const Node& from, std::string_view key) {
  if (const Entry* entry = from.find(key)) return {entry->value.begin, &entry->value};
  const Node* node = &from;
  while (!key.empty()) {
    const std::size_t cut = key.find_first_of(" .:");
    const Entry* entry = node->find(key.substr(0, cut));
    if (entry == nullptr) return {node->begin, nullptr};
    node = &entry->value;
    key.remove_prefix(std::min(cut, key.size()));
    if (key.starts_with(' ')) {  // "law 2: n": the second of the list
      std::size_t index = 0;
      const auto [end, error] = std::from_chars(key.data() + 1, key.data() + key.size(), index);
      if (error != std::errc{} || index < 1 || index > node->items.size()) {
        return {node->begin, nullptr};
      }
      node = &node->items[index - 1];
      key.remove_prefix(static_cast<std::size_t>(end - key.data()));
    }
    key.remove_prefix(std::min(key.find_first_not_of(" .:"), key.size()));
  }
  return {node->begin, node};
}

}  // namespace

void Findings::add(Position at, std::string key, std::string given, std::string allowed) {
  complaints.push_back(
      {std::move(key), std::move(given), std::move(allowed), {file, at.line, at.column}});
}

void Findings::throw_if_any() {
  if (complaints.empty()) return;
  std::ranges::stable_sort(complaints, {}, [](const Complaint& complaint) {
    return Position{complaint.place.line, complaint.place.column};
  });
  throw InputError(complaints);
}

Section::Section(Findings& findings, const Node& table, std::string path, std::string label)
    : findings_(&findings),
      table_(&table),
      path_(std::move(path)),
      label_(std::move(label)),
      begun_at_(findings.complaints.size()) {
  check_keys();
}

std::string Section::path_of(std::string_view key) const {
  return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
}

void Section::check_keys() {
  const std::vector<std::string> known = names_under(path_);
  if (std::ranges::find(known, "*") != known.end()) return;
  for (const Entry& entry : table_->entries) {
    if (findings_->sourced && entry.key == "source") continue;
    if (std::ranges::find(known, entry.key) != known.end()) continue;
    findings_->add(entry.begin, label_ + entry.key, path_.empty() ? "unknown table" : "unknown key",
                   unknown_key_advice(entry.key));
  }
  for (const std::string& name : known) {
    if (findings_->sourced && name == "source") continue;  // beside each value
    const Rule* rule = find_rule(path_of(name));
    if (rule == nullptr || rule->standing != "required" || has(name)) continue;
    findings_->add(table_->begin, label_ + name, "missing", asked_for(*rule));
  }
}

std::string Section::unknown_key_advice(const std::string& key) const {
  const std::vector<std::string> known = names_under(path_);
  if (const std::string meant = nearest(key, known); !meant.empty()) {
    return fmt::format("did you mean \"{}\"?", meant);
  }
  if (const std::string home = table_with(key); !home.empty()) {
    return fmt::format(
        "\"{}\" belongs in {}", key,
        home.ends_with("[]") ? "[[" + home.substr(0, home.size() - 2) + "]]" : "[" + home + "]");
  }
  return "one of " + listed(known);
}

const Node* Section::value(std::string_view key) {
  const Entry* entry = table_->find(key);
  if (entry == nullptr) return nullptr;
  if (!findings_->sourced || has("source")) return &entry->value;
  if (entry->value.form != Form::table) return &entry->value;
  const Entry* inner = entry->value.find("value");
  const Entry* source = entry->value.find("source");
  if (inner == nullptr || source == nullptr || source->value.text.empty()) {
    complain(key, entry->value.words(), "{ value = ..., source = \"...\" }");
    return nullptr;
  }
  return &inner->value;
}

std::optional<double> Section::number(std::string_view key, const Node& node) {
  const Rule* rule = find_rule(path_of(key));
  if (rule == nullptr) rule = find_rule(path_of("*"));
  const Dimension dimension = rule->kind.dimension;
  const std::string name = label_ + std::string(key);
  const bool plain = node.form == Form::whole || node.form == Form::real;
  double number = node.number;
  if (node.form == Form::text) {
    try {
      number = read_quantity(node.text, dimension);
    } catch (const InputError& error) {
      const Complaint& complaint = error.complaints().front();
      findings_->add(node.begin, name, complaint.given, complaint.allowed);
      return std::nullopt;
    }
  } else if (!plain || !std::isfinite(number) ||
             !(dimension == Dimension::ratio || (rule->kind.bare_zero && number == 0))) {
    findings_->add(node.begin, name, plain ? node.words() + " without a unit" : node.words(),
                   asked_for(*rule));
    return std::nullopt;
  }
  if (!rule->range.holds(number)) {
    findings_->add(node.begin, name, node.words(), std::string(rule->range.words));
    return std::nullopt;
  }
  const bool bounded = !rule->range.holds(std::numeric_limits<double>::max());
  if (const Reach reach = reach_of(dimension); !reach.holds(number, bounded)) {
    findings_->add(node.begin, name, node.words(), std::string(reach.words));
    return std::nullopt;
  }
  return number;
}

void Section::read(std::string_view key, double& target) {
  if (const Node* node = value(key)) target = number(key, *node).value_or(target);
}

void Section::read(std::string_view key, std::optional<double>& target) {
  if (const Node* node = value(key)) {
    if (const auto read = number(key, *node)) target = read;
  }
}

void Section::read(std::string_view key, std::string& target) {
  const Node* node = value(key);
  if (node == nullptr) return;
  if (node->form == Form::text) {
    target = node->text;
  } else {
    complain(key, node->words(), asked_for(*find_rule(path_of(key))));
  }
}

void Section::read(std::string_view key, int& target) {
  const Node* node = value(key);
  if (node == nullptr) return;
  const Rule& rule = *find_rule(path_of(key));
  if (node->form == Form::whole && rule.range.holds(node->number)) {
    target = static_cast<int>(node->number);
  } else {
    complain(key, node->words(), asked_for(rule));
  }
}

void Section::read(std::string_view key, std::vector<double>& target) {
  const Node* node = value(key);
  if (node == nullptr) return;
  if (node->form != Form::list) {
    complain(key, node->words(),
             fmt::format("a list, each {}", asked_for(*find_rule(path_of(key)))));
    return;
  }
  target.clear();
  for (const Node& item : node->items) {
    if (const auto read = number(key, item)) target.push_back(*read);
  }
}

void Section::read(std::string_view key, std::vector<int>& target) {
  const Node* node = value(key);
  if (node == nullptr) return;
  const Rule& rule = *find_rule(path_of(key));
  const bool fits =
      node->form == Form::list && std::ranges::all_of(node->items, [&](const Node& item) {
        return item.form == Form::whole && rule.range.holds(item.number);
      });
  if (!fits) {
    complain(key, node->words(), fmt::format("a list of whole numbers, {}", rule.range.words));
    return;
  }
  target.clear();
  for (const Node& item : node->items) target.push_back(static_cast<int>(item.number));
}

std::optional<Section> Section::table_at(std::string_view key) {
  return table_at(key, path_of(key));
}

std::optional<Section> Section::table_at(std::string_view key, std::string path) {
  const Entry* entry = table_->find(key);
  if (entry == nullptr) return std::nullopt;
  const std::string name = label_ + std::string(key);
  if (entry->value.form != Form::table) {
    findings_->add(entry->begin, name, entry->value.words(),
                   fmt::format("one table, headed [{}]", path_of(key)));
    return std::nullopt;
  }
  return Section(*findings_, entry->value, std::move(path), name + ".");
}

std::vector<Section> Section::tables_at(std::string_view key) {
  return tables_at(key, path_of(key) + "[]");
}

std::vector<Section> Section::tables_at(std::string_view key, const std::string& path) {
  std::vector<Section> sections;
  const Entry* entry = table_->find(key);
  if (entry == nullptr) return sections;
  const auto& items = entry->value.items;
  const std::string name = label_ + std::string(key);
  if (entry->value.form != Form::list ||
      std::ranges::any_of(items, [](const Node& item) { return item.form != Form::table; })) {
    findings_->add(entry->begin, name, entry->value.words(),
                   fmt::format("tables, each headed [[{}]]", path_of(key)));
    return sections;
  }
  for (std::size_t i = 0; i < items.size(); ++i) {
    sections.emplace_back(*findings_, items[i], path, fmt::format("{} {}: ", name, i + 1));
  }
  return sections;
}

void Section::require(std::initializer_list<std::string_view> keys, const std::string& why) {
  for (std::string_view key : keys) {
    if (!has(key)) {
      const Rule& rule = *find_rule(path_of(key));
      complain(key, "missing", fmt::format("{}; {}", asked_for(rule), why));
    }
  }
}

void Section::complain(std::string_view key, std::string given, std::string allowed) {
  findings_->add(locate(*table_, key).at, label_ + std::string(key), std::move(given),
                 std::move(allowed));
}

void Section::adopt(const std::vector<Complaint>& complaints) {
  for (const Complaint& complaint : complaints) {
    const Found found = locate(*table_, complaint.key);
    // The person's own words where there are some, not the SI number that the lower room saw.
    const bool own_words = found.value != nullptr && found.value->form == Form::text;
    findings_->add(found.at, label_ + complaint.key,
                   own_words ? found.value->words() : complaint.given, complaint.allowed);
  }
}

}  // namespace grainwright
