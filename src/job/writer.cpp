// SPDX-License-Identifier: GPL-3.0-or-later
//
// A design is put into a job by changing the text where it must change, and nowhere else.
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <optional>

#include "edit.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright {
namespace {

constexpr double rounding = 1e-9;

std::string quoted_length(double metres) {
  return '"' + write_length(metres) + '"';
}

/// The keys of one layer, in order.
std::vector<std::string> lines_of(const Layer& layer, bool with_outer_diameter) {
  const Segment& segment = layer.segment;
  std::vector<std::string> faces;
  for (Face face : all_faces) {
    if (segment.inhibited.contains(face)) faces.push_back('"' + std::string(name_of(face)) + '"');
  }
  std::vector<std::string> lines = {
      fmt::format("count = {}", layer.count), "length = " + quoted_length(segment.length),
      "core = " + (segment.core_diameter > 0 ? quoted_length(segment.core_diameter) : "0"),
      fmt::format("inhibited = [{}]", fmt::join(faces, ", "))};
  if (with_outer_diameter)
    lines.push_back("outer_diameter = " + quoted_length(segment.outer_diameter));
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
  set(edit, document, "nozzle", "throat", quoted_length(throat_diameter));
  // A straight hole stays one.
  const bool straight = job.nozzle && job.nozzle->exit_diameter == job.nozzle->throat_diameter;
  if (straight && value_at(document, "nozzle", "exit") != nullptr) {
    set(edit, document, "nozzle", "exit", quoted_length(throat_diameter));
  }
  if (grain.spacer != job.grain.spacer) {
    set(edit, document, "shop", "spacer", quoted_length(grain.spacer));
  }
  set_segments(edit, document, grain, !job.casing);
  std::string text = edit.done();
  static_cast<void>(parse_job(text, name));  // throws where the two do not fit together
  return text;
}

}  // namespace grainwright
