// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <cstring>
#include <fstream>
#include <system_error>

#include "airframe_reader.hpp"
#include "core_reader.hpp"
#include "document.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/motor/atmosphere.hpp"
#include "propellant_reader.hpp"
#include "section.hpp"
#include "shell_reader.hpp"
#include "tolerance_reader.hpp"
#include "wish_reader.hpp"

namespace grainwright {
namespace {

constexpr std::size_t largest_file = 32U << 20U;
/// Lengths that add up to the room exactly on paper may not do so in binary.
constexpr double rounding = 1e-9;

std::vector<std::string> pipe_names() {
  std::vector<std::string> names;
  for (const PipeSize& size : pipe_sizes()) names.emplace_back(size.name);
  return names;
}

void read_heading(Section& section, Job& job) {
  section.read("title", job.title);
  std::string units = "us";
  section.read("units", units);
  job.units = units == "si" ? UnitSystem::si : UnitSystem::us;
  if (units != "si" && units != "us") {
    section.complain("units", section.value("units")->words(), "\"us\" or \"si\"");
  }
}

std::optional<Casing> read_casing(Section& section) {
  Casing casing;
  section.read("pipe", casing.pipe);
  if (!section.has("pipe")) {
    section.require({"bore", "wall"}, "or name a standard pipe");
  } else if (const auto size = find_pipe(casing.pipe)) {
    casing.pipe = size->name;
    casing.bore = size->average_bore();
    casing.wall = size->least_wall;
  } else if (!casing.pipe.empty()) {
    const std::string meant = nearest(casing.pipe, pipe_names());
    section.complain("pipe", section.value("pipe")->words(),
                     meant.empty() ? fmt::format("one of {}", fmt::join(pipe_names(), ", "))
                                   : fmt::format("did you mean \"{}\"?", meant));
  }
  section.read("bore", casing.bore);
  section.read("wall", casing.wall);
  section.read("grain_room", casing.grain_room);
  section.read("tube_wall", casing.tube_wall);
  section.read("fit", casing.fit);
  if (section.sound()) section.adopt(complaints(casing));
  if (!section.sound()) return std::nullopt;
  return casing;
}

/// A job for a search may leave the throat to it; then the smallest one on offer stands in for it
/// here.
std::optional<Nozzle> read_nozzle(Section& section, const std::optional<Shop>& shop) {
  Nozzle nozzle;
  section.read("throat", nozzle.throat_diameter);
  section.read("exit", nozzle.exit_diameter);
  section.read("half_angle", nozzle.half_angle);
  section.read("efficiency", nozzle.efficiency);
  section.read("throat_growth", nozzle.throat_growth);
  const bool to_choose = !section.has("throat") && shop && !shop->throats.empty();
  if (!to_choose) section.require({"throat"}, "or [shop] throats to choose from");
  if (!section.has("exit")) nozzle.exit_diameter = nozzle.throat_diameter;
  if (!section.sound()) return std::nullopt;
  Nozzle checked = nozzle;
  if (to_choose) {
    checked.throat_diameter = std::ranges::min(shop->throats);
    if (!section.has("exit")) checked.exit_diameter = checked.throat_diameter;
  }
  section.adopt(complaints(checked));
  return nozzle;
}

/// `altitude` stays as it is where the table gives none.
Day read_day(Section& section, double& altitude) {
  Day day;
  section.read("temperature", day.temperature);
  section.read("ambient_pressure", day.ambient_pressure);
  section.read("altitude", altitude);
  if (section.has("altitude") && section.has("ambient_pressure")) {
    section.complain("altitude", "given with ambient_pressure", "one of the two");
  } else if (section.has("altitude")) {
    day.ambient_pressure = air_at(altitude).pressure;
  }
  return day;
}

Lighting read_lighting(Section& section) {
  Lighting lighting;
  section.read("igniter_pressure", lighting.igniter_pressure);
  section.read("spare_volume", lighting.spare_volume);
  std::string blow_down = "isothermal";
  section.read("blow_down", blow_down);
  if (blow_down != "isothermal" && blow_down != "adiabatic") {
    section.complain("blow_down", section.value("blow_down")->words(),
                     "\"isothermal\" or \"adiabatic\"");
  }
  lighting.blow_down = blow_down == "adiabatic" ? BlowDown::adiabatic : BlowDown::isothermal;
  return lighting;
}

Faces read_faces(Section& section) {
  Faces faces = Segment{}.inhibited;
  const Node* node = section.value("inhibited");
  if (node == nullptr) return faces;
  const std::string allowed = R"(a list of any of "head", "nozzle", "core", "outer")";
  if (node->form != Node::Form::list) {
    section.complain("inhibited", node->words(), allowed);
    return faces;
  }
  faces = {};
  for (const Node& item : node->items) {
    const auto face = std::ranges::find(all_faces, item.text,
                                        [](Face known) { return std::string(name_of(known)); });
    if (face != all_faces.end()) {
      faces.insert(*face);
    } else {
      section.complain("inhibited", item.words(), allowed);
    }
  }
  return faces;
}

/// `outer_diameter` is the casing's, 0 where that is not known.
Layer read_layer(Section& section, bool has_casing, double outer_diameter,
                 const std::filesystem::path& folder) {
  Layer layer;
  layer.segment.outer_diameter = outer_diameter;
  section.read("count", layer.count);
  section.read("length", layer.segment.length);
  read_core(section, folder, layer.segment);
  layer.segment.inhibited = read_faces(section);
  if (!has_casing) {
    section.require({"outer_diameter"}, "there is no [casing] to take it from");
    section.read("outer_diameter", layer.segment.outer_diameter);
  } else if (section.has("outer_diameter")) {
    section.complain("outer_diameter", section.value("outer_diameter")->words(),
                     "nothing: the [casing] gives it (bore - 2 tube_wall - fit)");
  }
  return layer;
}

/// Notes the segment with which the stack outgrows the room.
void check_room(Section& root, const Grain& grain, const Casing& casing) {
  if (grain.stack_length() <= casing.grain_room * (1 + rounding)) return;
  Grain begun{{}, grain.spacer};
  for (const Layer& layer : grain.layers) {
    begun.layers.push_back(layer);
    if (begun.stack_length() > casing.grain_room * (1 + rounding)) break;
  }
  root.complain(fmt::format("segment {}: length", begun.layers.size()),
                fmt::format("segments and spacers together {}",
                            show(grain.stack_length(), Dimension::length, UnitSystem::si)),
                fmt::format("at most casing.grain_room, {}",
                            show(casing.grain_room, Dimension::length, UnitSystem::si)));
}

void read_grain(Section& root, const std::filesystem::path& folder, Job& job) {
  job.grain.spacer = job.shop ? job.shop->spacer : 0;
  const bool has_casing = root.has("casing");
  const double outer = job.casing ? job.casing->grain_outer_diameter() : 0;
  const std::size_t complaints_before = root.complaint_count();
  for (Section& section : root.tables_at("segment")) {
    job.grain.layers.push_back(read_layer(section, has_casing, outer, folder));
  }
  const bool sound = root.complaint_count() == complaints_before && (!has_casing || job.casing);
  if (!sound || job.grain.layers.empty()) return;
  const auto found = complaints(job.grain);
  root.adopt(found);
  if (found.empty() && job.casing) check_room(root, job.grain, *job.casing);
}

/// What was tidied in a drawing, and what would fall.
void remark_on_cores(Job& job) {
  for (std::size_t i = 0; i < job.grain.layers.size(); ++i) {
    for (const std::string& remark : core_remarks(job.grain.layers[i].segment)) {
      job.remarks.push_back(fmt::format("segment {}: {}", i + 1, remark));
    }
  }
}

/// The ceiling that the shell gives, before anything is fired.
void take_ceiling(Section& root, Job& job) {
  if (job.shell) {
    job.limits.pressure = cold_ceiling(*job.shell, job.day.ambient_pressure).pressure;
  } else if (root.sound()) {
    root.complain("limits.pressure", "\"from strength\" without a casing.material",
                  "a pressure, or the materials that it is to come from");
  }
}

bool gives(Section& root, std::string_view table, std::string_view key) {
  const Entry* entry = root.table().find(table);
  return entry != nullptr && entry->value.find(key) != nullptr;
}

/// What the file leaves out and counts for an answer.
void note_assumptions(Section& root, Job& job) {
  const auto assume = [&](std::string_view table, std::string_view key, std::string words) {
    if (gives(root, table, key)) return;
    job.assumed.push_back({fmt::format("{}.{}", table, key), std::move(words)});
  };
  assume("day", "temperature",
         fmt::format("the grain is at {}",
                     show(job.day.temperature, Dimension::temperature, job.units, 3)));
  assume("nozzle", "efficiency", "the nozzle gives its ideal thrust, efficiency 1");
  if (!job.shell) return;
  assume("limits", "factor",
         fmt::format("every part is to hold {:.3g} times its load", job.shell->factor));
  if (!job.shell->coefficient)
    assume("heat", "gas_coefficient", "gas heats the wall as Bartz's formula has it");
  if (!job.shell->liner.empty()) assume("casing", "tube_material", "casting tubes are of paper");
}

/// Keys of a lower room, under the table that holds them here.
std::vector<Complaint> under(const std::string& table, std::vector<Complaint> found) {
  for (Complaint& complaint : found) complaint.key = table + complaint.key;
  return found;
}

void check_faults(Section& root, const Job& job) {
  const Motor motor = motor_of(job);
  for (std::size_t i = 0; i < job.faults.size(); ++i) {
    root.adopt(complaints(job.faults[i], motor, i));
  }
}

Job read(const Node& document, const std::filesystem::path& folder, Findings& findings) {
  Job job;
  Section root(findings, document, "", "");
  if (document.entries.empty()) {
    findings.add({1, 1}, "", "nothing in it", "a job, which begins with tables such as [casing]");
  }
  if (auto section = root.table_at("job")) read_heading(*section, job);
  auto casing = root.table_at("casing");
  if (casing) job.casing = read_casing(*casing);
  if (auto section = root.table_at("propellant"))
    job.propellant = read_propellant(*section, job.assumed);
  double altitude = 0;
  if (auto section = root.table_at("day")) job.day = read_day(*section, altitude);
  if (auto section = root.table_at("firing")) job.lighting = read_lighting(*section);
  double factor = Shell{}.factor;
  if (auto section = root.table_at("limits")) {
    job.limits = read_limits(*section);
    job.from_strength = asks_strength(*section);
    section->read("factor", factor);
    job.factor_asked = section->has("factor");
  }
  if (auto section = root.table_at("shop")) job.shop = read_shop(*section, folder);
  if (auto section = root.table_at("nozzle")) job.nozzle = read_nozzle(*section, job.shop);
  if (auto section = root.table_at("wish")) job.wish = read_wish(*section);
  if (auto section = root.table_at("airframe")) job.airframe = read_airframe(*section, altitude);
  if (auto section = root.table_at("tolerance")) job.tolerances = read_tolerances(*section);
  job.faults = read_faults(root);
  read_grain(root, folder, job);
  job.shell = read_shell(root, casing ? &*casing : nullptr, job.casing, factor);
  note_assumptions(root, job);
  if (job.from_strength) take_ceiling(root, job);
  const bool fires = job.propellant && job.nozzle && job.nozzle->throat_diameter > 0 &&
                     !job.grain.layers.empty() && root.sound();
  if (fires) root.adopt(under("firing.", complaints(lighting_of(job), motor_of(job))));
  if (fires && root.sound()) check_faults(root, job);
  if (job.propellant) job.remarks = job.propellant->law.warnings();
  if (root.sound()) remark_on_cores(job);
  if (job.casing && job.propellant && job.nozzle && job.shop && job.wish && root.sound()) {
    root.adopt(complaints(search_task_of(job)));
  }
  return job;
}

}  // namespace

std::string content_of(const std::filesystem::path& path) {
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) {
    throw FileError(path.string(), "is a folder; a job is a file");
  }
  errno = 0;
  std::ifstream file(path, std::ios::binary);
  if (!file) throw FileError(path.string(), std::string("cannot read: ") + std::strerror(errno));
  std::string text;
  char block[1 << 16];
  while (file.read(block, sizeof block) || file.gcount() > 0) {
    text.append(block, static_cast<std::size_t>(file.gcount()));
    if (text.size() > largest_file) throw FileError(path.string(), "is over 32 MB; a job is small");
  }
  if (file.bad())
    throw FileError(path.string(), std::string("cannot read: ") + std::strerror(errno));
  return text;
}

Job parse_job(std::string_view text, const std::string& name) {
  if (text.find('\0') != std::string_view::npos) {
    throw InputError({Complaint{"", "a binary file", "a text file in UTF-8", {name}}});
  }
  Findings findings{.file = name};
  const Node document = parse_document(text, name);
  Job job = read(document, std::filesystem::path(name).parent_path(), findings);
  findings.throw_if_any();
  job.file = name;
  return job;
}

Job read_job(const std::filesystem::path& path) {
  return parse_job(content_of(path), path.string());
}

}  // namespace grainwright
