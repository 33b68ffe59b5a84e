// SPDX-License-Identifier: GPL-3.0-or-later
//
// A design is put into a job by changing the text where it must change, and nowhere else.
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <optional>

#include "document.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright {
namespace {

constexpr double rounding = 1e-9;

/// A text and what is to change in it. Changes are collected against the text as it was.
class Edit {
 public:
  explicit Edit(std::string_view text)
      : text_(text), newline_(text.find("\r\n") != std::string_view::npos ? "\r\n" : "\n") {}

  [[nodiscard]] char at(Position position) const { return text_[offset(position)]; }

  void replace(Position begin, Position end, std::string with) {
    changes_.push_back({offset(begin), offset(end), std::move(with)});
  }
  void remove_lines(int first, int last) {
    changes_.push_back({line_start(first), line_start(last + 1), ""});
  }
  /// The first of the empty lines that end just above this line, or this line where there are none.
  [[nodiscard]] int first_blank_above(int line) const {
    while (line > 1 && is_blank(line - 1)) --line;
    return line;
  }
  void insert_line(int before, std::string line) {
    const std::size_t where = line_start(before);
    const bool open_end = where == text_.size() && !text_.empty() && text_.back() != '\n';
    changes_.push_back({where, where, (open_end ? newline_ : "") + with_newlines(line + '\n')});
  }
  void append(std::string lines) {
    insert_line(1 + static_cast<int>(std::ranges::count(text_, '\n')) + 1, '\n' + std::move(lines));
  }

  /// The changed text.
  [[nodiscard]] std::string done() {
    std::ranges::stable_sort(changes_, {}, &Change::begin);
    std::string result;
    std::size_t kept = 0;
    for (const Change& change : changes_) {
      result.append(text_.substr(kept, change.begin - kept)).append(change.with);
      kept = change.end;
    }
    return result.append(text_.substr(kept));
  }

 private:
  struct Change {
    std::size_t begin;
    std::size_t end;
    std::string with;
  };

  [[nodiscard]] std::size_t line_start(int line) const {
    std::size_t start = 0;
    for (int i = 1; i < line; ++i) {
      const std::size_t end = text_.find('\n', start);
      if (end == std::string_view::npos) return text_.size();
      start = end + 1;
    }
    return start;
  }

  [[nodiscard]] bool is_blank(int line) const {
    const std::size_t start = line_start(line);
    const auto content = text_.substr(start, line_start(line + 1) - start);
    return content.find_first_not_of(" \t\r\n") == std::string_view::npos;
  }

  /// Columns count characters; the bytes 10xxxxxx of UTF-8 go on with the one before.
  [[nodiscard]] std::size_t offset(Position position) const {
    const auto goes_on = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
    std::size_t i = line_start(position.line);
    for (int column = 1; column < position.column; ++column) {
      ++i;
      while (i < text_.size() && goes_on(text_[i])) ++i;
    }
    return std::min(i, text_.size());
  }

  [[nodiscard]] std::string with_newlines(std::string_view lines) const {
    std::string result;
    for (char c : lines) result += c == '\n' ? newline_ : std::string(1, c);
    return result;
  }

  std::string_view text_;
  std::string newline_;
  std::vector<Change> changes_;
};

const Node* value_at(const Node& document, std::string_view table, std::string_view key) {
  const Entry* outer = document.find(table);
  if (outer == nullptr) return nullptr;
  const Entry* inner = outer->value.find(key);
  return inner == nullptr ? nullptr : &inner->value;
}

/// Sets table.key, wherever the document has it or could have it.
void set(Edit& edit, const Node& document, const std::string& table, const std::string& key,
         double metres) {
  const std::string value = '"' + write_length(metres) + '"';
  const std::string line = key + " = " + value;
  if (const Node* old = value_at(document, table, key)) {
    return edit.replace(old->begin, old->end, value);
  }
  const Entry* entry = document.find(table);
  if (entry == nullptr) return edit.append(fmt::format("[{}]\n{}", table, line));
  const Node& node = entry->value;
  if (node.in_braces) {
    const Position inside{node.begin.line, node.begin.column + 1};
    edit.replace(inside, inside, ' ' + line + (node.entries.empty() ? " " : ","));
  } else if (edit.at(node.begin) == '[') {
    edit.insert_line(node.begin.line + 1, line);
  } else {  // dotted keys
    edit.insert_line(node.begin.line, fmt::format("{}.{}", table, line));
  }
}

/// The keys of one layer, in order.
std::vector<std::string> lines_of(const Layer& layer, bool with_outer_diameter) {
  const Segment& segment = layer.segment;
  const auto length = [](double metres) { return '"' + write_length(metres) + '"'; };
  std::vector<std::string> faces;
  for (Face face : all_faces) {
    if (segment.inhibited.contains(face)) faces.push_back('"' + std::string(name_of(face)) + '"');
  }
  std::vector<std::string> lines = {
      fmt::format("count = {}", layer.count), "length = " + length(segment.length),
      "core = " + (segment.core_diameter > 0 ? length(segment.core_diameter) : "0"),
      fmt::format("inhibited = [{}]", fmt::join(faces, ", "))};
  if (with_outer_diameter) lines.push_back("outer_diameter = " + length(segment.outer_diameter));
  return lines;
}

std::string headed(const Grain& grain, bool with_outer_diameter) {
  std::vector<std::string> blocks;
  for (const Layer& layer : grain.layers) {
    blocks.push_back(
        fmt::format("[[segment]]\n{}\n", fmt::join(lines_of(layer, with_outer_diameter), "\n")));
  }
  std::string text = fmt::format("{}", fmt::join(blocks, "\n"));
  text.pop_back();
  return text;
}

std::string listed(const Grain& grain, bool with_outer_diameter) {
  std::string text = "[\n";
  for (const Layer& layer : grain.layers) {
    text += fmt::format("  {{ {} }},\n", fmt::join(lines_of(layer, with_outer_diameter), ", "));
  }
  return text + "]";
}

void set_segments(Edit& edit, const Node& document, const Grain& grain, bool with_outer_diameter) {
  const Entry* old = document.find("segment");
  if (old == nullptr) return edit.append(headed(grain, with_outer_diameter));
  const auto& blocks = old->value.items;
  if (blocks.empty() || blocks.front().in_braces) {
    return edit.replace(old->value.begin, old->value.end, listed(grain, with_outer_diameter));
  }
  edit.insert_line(blocks.front().begin.line, headed(grain, with_outer_diameter));
  for (const Node& block : blocks) {
    const bool first = &block == &blocks.front();
    edit.remove_lines(first ? block.begin.line : edit.first_blank_above(block.begin.line),
                      block.begin.line);
    for (const Entry& entry : block.entries) {
      edit.remove_lines(entry.begin.line, entry.value.end.line);
    }
  }
}

/// A casing fixes the outer diameter, so a design for another one does not belong in this job.
void check_outer_diameters(const Grain& grain, double outer) {
  for (const Layer& layer : grain.layers) {
    const double given = layer.segment.outer_diameter;
    if (std::abs(given - outer) <= rounding * outer) continue;
    throw InputError("outer_diameter", write_length(given),
                     "that of the job's casing, " + write_length(outer));
  }
}

}  // namespace

std::string with_design(std::string_view job_text, const Grain& grain, double throat_diameter) {
  const std::string name = "job";
  const Job job = parse_job(job_text, name);
  if (auto found = complaints(grain); !found.empty()) throw InputError(std::move(found));
  if (job.casing) check_outer_diameters(grain, job.casing->grain_outer_diameter());
  const Node document = parse_document(job_text, name);

  Edit edit(job_text);
  set(edit, document, "nozzle", "throat", throat_diameter);
  // A straight hole stays one.
  const bool straight = job.nozzle && job.nozzle->exit_diameter == job.nozzle->throat_diameter;
  if (straight && value_at(document, "nozzle", "exit") != nullptr) {
    set(edit, document, "nozzle", "exit", throat_diameter);
  }
  if (grain.spacer != job.grain.spacer) set(edit, document, "shop", "spacer", grain.spacer);
  set_segments(edit, document, grain, !job.casing);
  std::string text = edit.done();
  static_cast<void>(parse_job(text, name));  // throws where the two do not fit together
  return text;
}

}  // namespace grainwright
