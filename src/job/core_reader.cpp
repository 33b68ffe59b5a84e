// SPDX-License-Identifier: GPL-3.0-or-later
#include "core_reader.hpp"

#include <algorithm>
#include <cctype>
#include <functional>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "grainwright/grain/core_figures.hpp"

namespace grainwright {
namespace {

double metres_of(Section& section, const std::string& unit) {
  try {
    return read_quantity("1 " + unit, Dimension::length);
  } catch (const InputError&) {
    section.complain("unit", section.value("unit")->words(), "a unit of length: \"mm\" or \"in\"");
    return 1;
  }
}

/// A device or a pipe might never end.
std::string outline_in(const std::filesystem::path& path) {
  std::error_code ignored;
  if (std::filesystem::is_other(path, ignored)) throw FileError(path.string(), "is no plain file");
  return content_of(path);
}

std::optional<DrawnCore> read_drawn(Section& section, const std::filesystem::path& folder) {
  DrawnCore core;
  core.unit = "mm";
  section.read("outline", core.source);
  section.read("unit", core.unit);
  if (!section.sound()) return std::nullopt;
  const double unit = metres_of(section, core.unit);
  try {
    const std::string text = is_wkt(core.source) ? core.source : outline_in(folder / core.source);
    core.outline = read_outline_wkt(text, unit);
  } catch (const InputError& error) {
    for (const Complaint& complaint : error.complaints()) {
      section.complain("outline", complaint.given, complaint.allowed);
    }
  } catch (const FileError& error) {
    section.complain("outline", error.what(), "POLYGON ((...)), or the name of a file with that");
  }
  return core;
}

OffCentreCore read_off_centre(Section& section) {
  OffCentreCore core;
  section.require({"diameter", "offset"}, "a core off centre has both");
  section.read("diameter", core.diameter);
  section.read("offset", core.offset);
  section.read("count", core.count);
  return core;
}

ScatteredCores read_scattered(Section& section) {
  ScatteredCores cores;
  for (Section& table : section.tables_at("round")) {
    double diameter = 0;
    RoundCore& core = cores.cores.emplace_back();
    table.read("diameter", diameter);
    table.read("x", core.centre.x);
    table.read("y", core.centre.y);
    core.radius = diameter / 2;
  }
  return cores;
}

TurnedCore read_taper(Section& section, double length) {
  double head = 0;
  double nozzle = 0;
  section.require({"head", "nozzle"}, "a tapered core has both");
  section.read("head", head);
  section.read("nozzle", nozzle);
  return tapered_core(length, head, nozzle);
}

TurnedCore read_stations(Section& section) {
  constexpr auto allowed = R"(places and diameters, [["0 mm", "12 mm"], ["80 mm", "14 mm"]])";
  TurnedCore core;
  const Node& list = *section.value("diameters");
  if (list.form != Node::Form::list || !std::ranges::all_of(list.items, &Node::is_pair)) {
    section.complain("diameters", list.words(), allowed);
    return core;
  }
  for (const Node& pair : list.items) {
    const auto at = section.number("diameters", pair.items[0]);
    const auto diameter = section.number("diameters", pair.items[1]);
    if (at && diameter) core.stations.push_back({*at, *diameter});
  }
  return core;
}

// Reads each number that a shape has, and notes those that it lacks or has no use for.
class ShapeReader {
 public:
  explicit ShapeReader(Section& section) : section_(section) {}

  void operator()(const char* key, double& target, Dimension, Need need) {
    read(key, target, need);
  }
  void operator()(const char* key, int& target, Need need) { read(key, target, need); }
  void operator()(const char* key, bool& round, Need) {
    known_.insert(key);
    std::string ends = round ? "round" : "square";
    section_.read(key, ends);
    round = ends == "round";
    if (!round && ends != "square") {
      section_.complain(key, '"' + ends + '"', "\"round\" or \"square\"");
    }
  }
  void refuse_others(const std::string& shape) {
    for (const Entry& entry : section_.table().entries) {
      if (known_.contains(entry.key) || find_rule("segment[].core." + entry.key) == nullptr) {
        continue;
      }
      section_.complain(entry.key, "given for a " + shape, "not a number that a " + shape + " has");
    }
  }

 private:
  template <class Number>
  void read(const char* key, Number& target, Need need) {
    known_.insert(key);
    if (need == Need::must) section_.require({key}, "this shape needs it");
    section_.read(key, target);
  }

  Section& section_;
  std::set<std::string, std::less<>> known_ = {"shape"};
};

std::optional<NamedCore> read_named(Section& section) {
  std::string name;
  section.read("shape", name);
  if (!section.sound()) return std::nullopt;
  std::optional<NamedCore> core = named_core(name);
  if (!core) {
    section.complain("shape", '"' + name + '"',
                     R"("star", "slot", "cross", "slotted tube" or "wheel")");
    return std::nullopt;
  }
  ShapeReader reader(section);
  std::visit([&](auto& shape) { each_figure(shape, reader); }, core->shape);
  reader.refuse_others(name);
  if (auto* tube = std::get_if<SlottedTube>(&core->shape)) {
    tube->through_wall = !section.has("slot_reach");
  }
  return core;
}

// Which of the kinds a table means; notes a mixture of two.
std::optional<Core> read_table(Section& section, const std::filesystem::path& folder,
                               double length) {
  const auto any = [&](std::initializer_list<std::string_view> keys) {
    return std::ranges::any_of(keys, [&](std::string_view key) { return section.has(key); });
  };
  if (section.has("shape")) {
    if (auto core = read_named(section)) return Core{std::move(*core)};
    return std::nullopt;
  }
  const bool drawn = any({"outline", "unit"});
  const bool beside = any({"diameter", "offset", "count"});
  const bool taper = any({"head", "nozzle"});
  const bool stations = section.has("diameters");
  const bool scattered = section.has("round");
  const int kinds = int{drawn} + int{beside} + int{taper} + int{stations} + int{scattered};
  if (kinds != 1 || (drawn && !section.has("outline"))) {
    if (section.sound()) {
      section.complain("", "a table that does not say which core",
                       "{ head, nozzle }, { diameters }, { diameter, offset }, { round }, "
                       "{ shape, ... } or { outline, unit }");
    }
    return std::nullopt;
  }
  if (taper) return Core{read_taper(section, length)};
  if (stations) return Core{read_stations(section)};
  if (beside) return Core{read_off_centre(section)};
  if (scattered) return Core{read_scattered(section)};
  if (auto core = read_drawn(section, folder)) return Core{std::move(*core)};
  return std::nullopt;
}

std::vector<CoreSlot> read_slots(Section& section) {
  std::vector<CoreSlot> slots;
  for (Section& table : section.tables_at("slot")) {
    CoreSlot& slot = slots.emplace_back();
    table.read("at", slot.at);
    table.read("width", slot.width);
    table.read("depth", slot.depth);
  }
  return slots;
}

// Slots and coned ends, which only a core in the middle can have.
void read_cuts(Section& section, std::optional<Core>& core, const Segment& segment) {
  std::vector<CoreSlot> slots = read_slots(section);
  double head_dish = 0;
  double nozzle_dish = 0;
  section.read("head_dish", head_dish);
  section.read("nozzle_dish", nozzle_dish);
  if (slots.empty() && head_dish == 0 && nozzle_dish == 0) return;
  if (!core)
    core = Core{tapered_core(segment.length, segment.core_diameter, segment.core_diameter)};
  TurnedCore* turned = std::get_if<TurnedCore>(&core->shape);
  if (turned == nullptr) {
    section.complain(slots.empty() ? (head_dish > 0 ? "head_dish" : "nozzle_dish") : "slot",
                     "beside a core that is off centre or drawn",
                     "only with a round core in the middle, which may be tapered or stepped");
    return;
  }
  turned->slots = std::move(slots);
  turned->head_dish = head_dish;
  turned->nozzle_dish = nozzle_dish;
}

}  // namespace

bool is_wkt(std::string_view source) {
  std::string start;
  for (char c : source.substr(0, source.find('('))) {
    if (std::isspace(static_cast<unsigned char>(c)) == 0) {
      start += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    }
  }
  return start.starts_with("POLYGON") || start.starts_with("MULTIPOLYGON");
}

void read_core(Section& section, const std::filesystem::path& folder, Segment& segment) {
  const Node* node = section.value("core");
  const bool table = node != nullptr && node->form == Node::Form::table;
  std::optional<Core> core;
  if (table) {
    Section inner = *section.table_at("core");
    core = read_table(inner, folder, segment.length);
    if (!core) return;
  } else {
    section.read("core", segment.core_diameter);
  }
  read_cuts(section, core, segment);
  if (core) segment = with_core(std::move(segment), std::move(*core));
}

std::vector<Core> read_cores(Section& section, std::string_view key,
                             const std::filesystem::path& folder) {
  std::vector<Core> cores;
  for (Section& table : section.tables_at(key, "segment[].core")) {
    if (auto core = read_table(table, folder, 0)) cores.push_back(std::move(*core));
  }
  return cores;
}

}  // namespace grainwright
