// SPDX-License-Identifier: GPL-3.0-or-later
#include "edit.hpp"

#include <fmt/format.h>
#include <charconv>
#include <optional>

#include "grainwright/error.hpp"
#include "grainwright/job/job.hpp"
#include "schema.hpp"

namespace grainwright {
namespace {

const Node* table_at(const Node& document, std::string_view path) {
  const std::size_t dot = path.find('.');
  const Entry* entry = document.find(path.substr(0, dot));
  if (entry == nullptr || dot == std::string_view::npos) {
    return entry == nullptr ? nullptr : &entry->value;
  }
  return table_at(entry->value, path.substr(dot + 1));
}

/// "segment[2].core" as "segment.core" and 2; "segment[].core" as the same and no number.
struct Wanted {
  std::string path;
  std::optional<std::size_t> item;
};
Wanted wanted(std::string_view key) {
  Wanted result;
  const std::size_t open = key.find('[');
  const std::size_t close = key.find(']');
  if (open >= close || close == std::string_view::npos) return {std::string(key), std::nullopt};
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(key.data() + open + 1, key.data() + close, number);
  if (error == std::errc{} && end == key.data() + close) result.item = number;
  result.path = std::string(key.substr(0, open)) + std::string(key.substr(close + 1));
  return result;
}

const Rule& rule_for(const Wanted& want, std::string_view key) {
  std::vector<const Rule*> found;
  std::vector<std::string> names;
  for (const Rule& rule : rules()) {
    const std::string path = wanted(rule.path).path;
    const std::string last = path.substr(path.rfind('.') + 1);
    if (path == want.path) return rule;
    if (last == want.path) found.push_back(&rule);
    names.push_back(last);
    names.push_back(path);
  }
  // What strays or goes wrong is not meant by the name of the thing itself.
  if (found.size() > 1) {
    std::erase_if(found, [](const Rule* rule) {
      return rule->path.starts_with("tolerance.") || rule->path.starts_with("fault[].");
    });
  }
  if (found.size() == 1) return *found.front();
  if (found.empty()) {
    const std::string meant = nearest(want.path, names);
    throw InputError(std::string(key), "no key of a job",
                     meant.empty() ? "a key such as temperature, nozzle.throat or segment[2].core"
                                   : fmt::format("did you mean \"{}\"?", meant));
  }
  std::vector<std::string_view> paths;
  for (const Rule* rule : found) paths.push_back(rule->path);
  throw InputError(std::string(key), "in several tables",
                   fmt::format("one of {}", fmt::join(paths, ", ")));
}

/// As TOML has it: a number as it is, anything else in quotes.
std::string written(std::string_view key, std::string_view value) {
  double number = 0;
  const auto [end, error] = std::from_chars(value.data(), value.data() + value.size(), number);
  if (error == std::errc{} && end == value.data() + value.size()) return std::string(value);
  const auto odd = [](char c) {
    return c == '"' || c == '\\' || static_cast<unsigned char>(c) < 32;
  };
  if (value.empty() || std::ranges::any_of(value, odd)) {
    throw InputError(std::string(key), fmt::format("\"{}\"", value), "a number with its unit");
  }
  return fmt::format("\"{}\"", value);
}

/// Adds a line to a table as it stands: in braces, under its heading, or as dotted keys of a path.
void add(Edit& edit, const Node& table, const std::string& path, const std::string& line) {
  if (table.in_braces) {
    const Position inside{table.begin.line, table.begin.column + 1};
    edit.replace(inside, inside, ' ' + line + (table.entries.empty() ? " " : ","));
  } else if (edit.at(table.begin) == '[') {
    edit.insert_line(table.begin.line + 1, line);
  } else {
    edit.insert_line(table.begin.line, fmt::format("{}.{}", path, line));
  }
}

/// Sets a key in the items of a list of tables: in all, or in one.
void set_items(Edit& edit, const Node& list, const Wanted& want, const std::string& key,
               const std::string& value) {
  const std::size_t count = list.items.size();
  if (want.item && (*want.item < 1 || *want.item > count)) {
    throw InputError(want.path, fmt::format("number {}", *want.item),
                     fmt::format("1 to {}, the tables that the job has", count));
  }
  for (std::size_t i = 0; i < count; ++i) {
    if (want.item && *want.item != i + 1) continue;
    const Node& item = list.items[i];
    const Entry* old = item.find(key);
    if (old == nullptr) {
      add(edit, item, "", key + " = " + value);
    } else {
      edit.replace(old->value.begin, old->value.end, value);
    }
  }
}

}  // namespace

const Node* value_at(const Node& document, std::string_view table, std::string_view key) {
  const Node* node = table_at(document, table);
  const Entry* entry = node == nullptr ? nullptr : node->find(key);
  return entry == nullptr ? nullptr : &entry->value;
}

void set(Edit& edit, const Node& document, const std::string& table, const std::string& key,
         const std::string& value) {
  const std::string line = key + " = " + value;
  if (const Node* old = value_at(document, table, key)) {
    return edit.replace(old->begin, old->end, value);
  }
  const Node* node = table_at(document, table);
  if (node == nullptr) return edit.append(fmt::format("[{}]\n{}", table, line));
  add(edit, *node, table, line);
}

std::string with_value(std::string_view job_text, std::string_view key, std::string_view value) {
  const Wanted want = wanted(key);
  const Rule& rule = rule_for(want, key);
  using Form = ValueKind::Form;
  if (rule.kind.form != Form::quantity && rule.kind.form != Form::whole) {
    throw InputError(std::string(key), "no number", "a key that holds one number");
  }
  const Node document = parse_document(job_text, "job");
  Edit edit(job_text);
  const std::size_t dot = rule.path.rfind('.');
  const std::string table(rule.path.substr(0, dot));
  const std::string name(rule.path.substr(dot + 1));
  const std::string text = written(key, value);
  if (!table.ends_with("[]")) {
    set(edit, document, table, name, text);
    return edit.done();
  }
  const Node* list = table_at(document, std::string_view(table).substr(0, table.size() - 2));
  if (list == nullptr || list->items.empty()) {
    throw InputError(std::string(key), "none in this job",
                     fmt::format("a [[{}]] to change", table.substr(0, table.size() - 2)));
  }
  set_items(edit, *list, want, name, text);
  return edit.done();
}

}  // namespace grainwright
