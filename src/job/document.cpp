// SPDX-License-Identifier: GPL-3.0-or-later
#include "document.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>
#include <algorithm>
#include <locale>
#include <sstream>

#include "grainwright/error.hpp"

namespace grainwright {
namespace {

constexpr std::size_t longest_quote = 60;
constexpr std::size_t longest_list = 100'000;  // of tables, too

Position position(const toml::source_position& at) {
  return {static_cast<int>(at.line), static_cast<int>(at.column)};
}

/// A scalar that is no text, as a person would write it.
std::string written(const toml::node& node) {
  if (const auto* real = node.as_floating_point()) return fmt::format("{}", real->get());
  std::ostringstream text;
  text.imbue(std::locale::classic());
  node.visit([&](const auto& value) {
    if constexpr (toml::is_value<decltype(value)>) text << value;
  });
  return text.str();
}

Node converted(const toml::node& source);

std::vector<Entry> entries_of(const toml::table& table) {
  std::vector<Entry> entries;
  for (const auto& [key, value] : table) {
    entries.push_back({std::string(key.str()), position(key.source().begin), converted(value)});
  }
  std::ranges::stable_sort(entries, {}, &Entry::begin);
  return entries;
}

Node converted(const toml::node& source) {
  Node node;
  node.begin = position(source.source().begin);
  node.end = position(source.source().end);
  if (const auto* table = source.as_table()) {
    node.form = Node::Form::table;
    node.in_braces = table->is_inline();
    node.entries = entries_of(*table);
  } else if (const auto* list = source.as_array()) {
    node.form = Node::Form::list;
    if (list->size() > longest_list) {
      throw InputError({Complaint{"",
                                  fmt::format("a list of {} items", list->size()),
                                  fmt::format("at most {}", longest_list),
                                  {"", node.begin.line, node.begin.column}}});
    }
    for (const toml::node& item : *list) node.items.push_back(converted(item));
  } else if (const auto* text = source.as_string()) {
    node.form = Node::Form::text;
    node.text = text->get();
  } else {
    node.text = written(source);
    if (source.is_number()) {
      node.form = source.is_integer() ? Node::Form::whole : Node::Form::real;
      node.number = source.value_or(0.0);
    }
  }
  return node;
}

}  // namespace

const Entry* Node::find(std::string_view key) const {
  const auto found = std::ranges::find(entries, key, &Entry::key);
  return found == entries.end() ? nullptr : &*found;
}

std::string Node::words() const {
  if (form == Form::table) return "a table";
  if (form == Form::list) return items.empty() ? "an empty list" : "a list";
  if (form != Form::text) return text;
  return text.size() <= longest_quote ? '"' + text + '"'
                                      : '"' + text.substr(0, longest_quote) + "...";
}

Node parse_document(std::string_view text, const std::string& name) {
  try {
    return converted(toml::parse(text, name));
  } catch (const toml::parse_error& error) {
    const Position at = position(error.source().begin);
    throw InputError({Complaint{"not TOML",
                                std::string(error.description()),
                                "lines such as  key = \"value\"  under a [table]",
                                {name, at.line, at.column}}});
  } catch (const InputError& error) {
    Complaint complaint = error.complaints().front();
    complaint.place.file = name;
    throw InputError({complaint});
  }
}

}  // namespace grainwright
