// SPDX-License-Identifier: GPL-3.0-or-later
//
// A design is put into a job by changing the text where it must change, and nowhere else.
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <optional>

#include "document.hpp"
#include "edit.hpp"
#include "grainwright/grain/core_figures.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright {
namespace {

constexpr double rounding = 1e-9;

std::string quoted_length(double metres) {
  return '"' + write_length(metres) + '"';
}

/// A text as TOML has it, on one line.
std::string toml_text(std::string_view text) {
  std::string result = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\') result += '\\';
    if (c == '\n' || c == '\r' || c == '\t') c = ' ';
    result += c;
  }
  return result + '"';
}

/// A named shape's numbers as a table in braces.
class ShapeText {
 public:
  void operator()(const char* key, double value, Dimension dimension, Need) {
    text_ += fmt::format(", {} = ", key);
    if (dimension == Dimension::ratio) {
      text_ += fmt::format("{}", value);
    } else if (dimension == Dimension::length) {
      text_ += quoted_length(value);
    } else {
      text_ += '"' + write_quantity(value, dimension) + '"';
    }
  }
  void operator()(const char* key, int value, Need) {
    text_ += fmt::format(", {} = {}", key, value);
  }
  void operator()(const char* key, bool round, Need) {
    text_ += fmt::format(", {} = \"{}\"", key, round ? "round" : "square");
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string text_;
};

std::string core_line(const TurnedCore& core) {
  const auto& stations = core.stations;
  if (stations.size() != 2) {
    std::vector<std::string> pairs;
    for (const CoreStation& station : stations) {
      pairs.push_back(
          fmt::format("[{}, {}]", quoted_length(station.at), quoted_length(station.diameter)));
    }
    return fmt::format("core = {{ diameters = [{}] }}", fmt::join(pairs, ", "));
  }
  const bool cut = !core.slots.empty() || core.head_dish > 0 || core.nozzle_dish > 0;
  const auto [head, nozzle] = std::pair{stations[0].diameter, stations[1].diameter};
  if (head == nozzle && cut) return "core = " + quoted_length(head);
  return fmt::format("core = {{ head = {}, nozzle = {} }}", quoted_length(head),
                     quoted_length(nozzle));
}

/// The lines for a core, and for what is cut into it.
struct CoreLines {
  std::vector<std::string> operator()(const TurnedCore& core) const {
    std::vector<std::string> lines = {core_line(core)};
    std::vector<std::string> slots;
    for (const CoreSlot& slot : core.slots) {
      slots.push_back(fmt::format("{{ at = {}, width = {}, depth = {} }}", quoted_length(slot.at),
                                  quoted_length(slot.width), quoted_length(slot.depth)));
    }
    if (!slots.empty()) lines.push_back(fmt::format("slot = [{}]", fmt::join(slots, ", ")));
    if (core.head_dish > 0) lines.push_back("head_dish = " + quoted_length(core.head_dish));
    if (core.nozzle_dish > 0) lines.push_back("nozzle_dish = " + quoted_length(core.nozzle_dish));
    return lines;
  }
  std::vector<std::string> operator()(const OffCentreCore& core) const {
    const std::string count = core.count > 1 ? fmt::format(", count = {}", core.count) : "";
    return {fmt::format("core = {{ diameter = {}, offset = {}{} }}", quoted_length(core.diameter),
                        quoted_length(core.offset), count)};
  }
  std::vector<std::string> operator()(const ScatteredCores& core) const {
    std::vector<std::string> rounds;
    for (const RoundCore& round : core.cores) {
      rounds.push_back(fmt::format("{{ diameter = {}, x = {}, y = {} }}",
                                   quoted_length(2 * round.radius), quoted_length(round.centre.x),
                                   quoted_length(round.centre.y)));
    }
    return {fmt::format("core = {{ round = [{}] }}", fmt::join(rounds, ", "))};
  }
  std::vector<std::string> operator()(const NamedCore& core) const {
    ShapeText numbers;
    std::visit([&](const auto& shape) { each_figure(shape, numbers); }, core.shape);
    return {fmt::format("core = {{ shape = \"{}\"{} }}", name_of(core), numbers.text())};
  }
  std::vector<std::string> operator()(const DrawnCore& core) const {
    if (core.source.empty()) {
      throw InputError("core", "an outline that came from no job",
                       "a drawn core with its source, as a job's has");
    }
    return {fmt::format("core = {{ outline = {}, unit = {} }}", toml_text(core.source),
                        toml_text(core.unit))};
  }
};

std::vector<std::string> core_lines(const Segment& segment) {
  if (segment.core) return std::visit(CoreLines{}, segment.core->shape);
  return {"core = " + (segment.core_diameter > 0 ? quoted_length(segment.core_diameter) : "0")};
}

/// The keys of one layer, in order.
std::vector<std::string> lines_of(const Layer& layer, bool with_outer_diameter) {
  const Segment& segment = layer.segment;
  std::vector<std::string> faces;
  for (Face face : all_faces) {
    if (segment.inhibited.contains(face)) faces.push_back('"' + std::string(name_of(face)) + '"');
  }
  std::vector<std::string> lines = {fmt::format("count = {}", layer.count),
                                    "length = " + quoted_length(segment.length)};
  for (std::string& line : core_lines(segment)) lines.push_back(std::move(line));
  lines.push_back(fmt::format("inhibited = [{}]", fmt::join(faces, ", ")));
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

/// Takes the lines of a headed table's keys away, and those of headed tables in it.
void remove_keys(Edit& edit, const Node& table) {
  for (const Entry& entry : table.entries) {
    const Node& value = entry.value;
    const auto headed_table = [](const Node& node) {
      return node.form == Node::Form::table && !node.in_braces;
    };
    if (value.form == Node::Form::list && !value.items.empty() &&
        headed_table(value.items.front())) {
      for (const Node& item : value.items) {
        edit.remove_lines(edit.first_blank_above(item.begin.line), item.begin.line);
        remove_keys(edit, item);
      }
    } else if (headed_table(value) && edit.at(value.begin) == '[') {
      edit.remove_lines(edit.first_blank_above(value.begin.line), value.begin.line);
      remove_keys(edit, value);
    } else if (headed_table(value)) {  // dotted keys
      remove_keys(edit, value);
    } else {
      edit.remove_lines(entry.begin.line, value.end.line);
    }
  }
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
    remove_keys(edit, block);
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

std::string with_design(std::string_view job_text, const Grain& grain, double throat_diameter,
                        const std::string& name) {
  const Job job = parse_job(job_text, name);
  if (auto found = complaints(grain); !found.empty()) throw InputError(std::move(found));
  if (job.casing) check_outer_diameters(grain, job.casing->grain_outer_diameter());
  const Node document = parse_document(job_text, name);

  Edit edit(job_text);
  set(edit, document, "nozzle", "throat", quoted_length(throat_diameter));
  // A straight hole stays one.
  const bool straight = job.nozzle && job.nozzle->straight();
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
