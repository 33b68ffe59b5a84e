// SPDX-License-Identifier: GPL-3.0-or-later
//
// Reading one table of a job against the schema. Nothing throws here: what is wrong is noted with
// its place and reading goes on, so that one run shows every mistake.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document.hpp"
#include "grainwright/error.hpp"
#include "schema.hpp"

namespace grainwright {

/// What was found wrong in one file.
struct Findings {
  std::string file;
  /// True for shipped data, in which every value says where it comes from: { value = ..., source =
  /// ... }, or a `source` beside the values of its table.
  bool sourced = false;
  std::vector<Complaint> complaints = {};

  void add(Position at, std::string key, std::string given, std::string allowed);
  /// Throws InputError with everything found in the order of the file, if anything was.
  void throw_if_any();
};

class Section {
 public:
  /// `path` is the table's in the schema, `label` begins each key in a complaint ("segment 2: ").
  /// Notes unknown keys and required ones that are missing.
  Section(Findings& findings, const Node& table, std::string path, std::string label);

  [[nodiscard]] bool has(std::string_view key) const { return table_->find(key) != nullptr; }
  /// The value, out of its { value, source } where the data is sourced; null where there is none.
  [[nodiscard]] const Node* value(std::string_view key);
  [[nodiscard]] const Node& table() const { return *table_; }
  /// No complaint since this section was begun.
  [[nodiscard]] bool sound() const { return complaint_count() == begun_at_; }
  /// Of the whole file so far.
  [[nodiscard]] std::size_t complaint_count() const { return findings_->complaints.size(); }

  /// Each of these leaves `target` as it is where the key is missing or its value is refused.
  void read(std::string_view key, double& target);
  void read(std::string_view key, int& target);
  void read(std::string_view key, std::string& target);
  void read(std::string_view key, std::vector<double>& target);
  void read(std::string_view key, std::vector<int>& target);
  void read(std::string_view key, std::optional<double>& target);

  /// The numbers that a value holds under a key's rule; notes what is wrong with it.
  [[nodiscard]] std::optional<double> number(std::string_view key, const Node& value);

  /// The table or the list of tables under this key; notes a value of another form.
  [[nodiscard]] std::optional<Section> table_at(std::string_view key);
  /// The same, its keys those of another path in the schema.
  [[nodiscard]] std::optional<Section> table_at(std::string_view key, std::string path);
  [[nodiscard]] std::vector<Section> tables_at(std::string_view key);
  /// The same, their keys those of another path in the schema.
  [[nodiscard]] std::vector<Section> tables_at(std::string_view key, const std::string& path);

  /// Notes that one of these keys is missing.
  void require(std::initializer_list<std::string_view> keys, const std::string& why);
  void complain(std::string_view key, std::string given, std::string allowed);
  /// Takes over what a lower room complains of. Its keys ("core", "law 2: n", "shop.mandrels") lead
  /// to the value they name, or to the deepest table on the way there.
  void adopt(const std::vector<Complaint>& complaints);

 private:
  void check_keys();
  [[nodiscard]] std::string path_of(std::string_view key) const;
  [[nodiscard]] std::string unknown_key_advice(const std::string& key) const;

  Findings* findings_;
  const Node* table_;
  std::string path_;
  std::string label_;
  std::size_t begun_at_;
};

}  // namespace grainwright
