// SPDX-License-Identifier: GPL-3.0-or-later
#include "words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "grainwright/error.hpp"
#include "grainwright/grain/core_figures.hpp"
#include "numbers.hpp"

namespace grainwright::cli {

const Grain& segments_of(const Job& job) {
  if (job.grain.layers.empty()) {
    throw InputError("segment", "none in this job",
                     "at least one [[segment]] table; `grainwright design` can choose them");
  }
  return job.grain;
}

std::string title_of(std::string_view command, const Job& job) {
  return job.title.empty() ? std::string(command) : fmt::format("{}: {}", command, job.title);
}

std::string bare_ends_of(const Segment& segment) {
  switch (segment.bare_ends()) {
    case 2:
      return "both ends";
    case 1:
      return segment.bare(Face::head) ? "head end" : "nozzle end";
    default:
      return "none";
  }
}

namespace {

struct CoreWords {
  UnitSystem units;
  [[nodiscard]] std::string length(double metres) const { return show_length(metres, units); }

  std::string operator()(const TurnedCore& core) const {
    std::string words;
    if (core.stations.size() > 2) {
      const auto [narrow, wide] = std::ranges::minmax(core.stations, {}, &CoreStation::diameter);
      words = fmt::format("turned, {} to {}", length(narrow.diameter), length(wide.diameter));
    } else {
      const double head = core.stations.front().diameter;
      const double nozzle = core.stations.back().diameter;
      words = length(head) + (nozzle != head ? " to " + length(nozzle) : "");
    }
    if (!core.slots.empty()) words += ", " + counted(std::ssize(core.slots), "radial slot");
    const int cones = int{core.head_dish > 0} + int{core.nozzle_dish > 0};
    if (cones > 0) words += ", " + counted(cones, "coned end");
    return words;
  }
  std::string operator()(const OffCentreCore& core) const {
    if (core.count == 1) {
      return fmt::format("{}, {} off centre", length(core.diameter), length(core.offset));
    }
    return fmt::format("{} of {}, {} from the axis", core.count, length(core.diameter),
                       length(core.offset));
  }
  std::string operator()(const ScatteredCores& core) const {
    return counted(std::ssize(core.cores), "round core");
  }
  std::string operator()(const NamedCore& core) const {
    const std::string name(name_of(core));
    if (const auto* star = std::get_if<Star>(&core.shape)) {
      return fmt::format("{}, {} points", name, star->points);
    }
    if (const auto* tube = std::get_if<SlottedTube>(&core.shape)) {
      return fmt::format("{}, {}", name, counted(tube->slots, "slot"));
    }
    if (const auto* wheel = std::get_if<Wheel>(&core.shape)) {
      return fmt::format("{}, {} spokes", name, wheel->spokes);
    }
    const auto* cross = std::get_if<Cross>(&core.shape);
    const Slot& arm = cross != nullptr ? cross->arm : std::get<Slot>(core.shape);
    return fmt::format("{}, {} by {}", name, length(arm.length), length(arm.width));
  }
  std::string operator()(const DrawnCore& core) const {
    return fmt::format("drawn, {} corners", core.outline.corner_count());
  }
};

}  // namespace

std::string core_of(const Segment& segment, UnitSystem units) {
  if (segment.core) return std::visit(CoreWords{units}, segment.core->shape);
  return segment.solid() ? "solid" : show_length(segment.core_diameter, units);
}

Table table_of(const Grain& grain, UnitSystem units) {
  Table table{.align = "rlll", .head = {"count", "length", "core", "bare ends"}};
  for (const auto& [segment, count] : grain.layers) {
    table.rows.push_back({std::to_string(count), show_length(segment.length, units),
                          core_of(segment, units),
                          bare_ends_of(segment) + (segment.bare(Face::outer) ? ", outside" : "")});
  }
  return table;
}

std::array<Table, 2> summary_tables(const Summary& s, UnitSystem units) {
  using enum Dimension;
  auto row = [units](std::string_view name, Dimension dimension, double initial, double peak,
                     double mean) {
    auto cells = column({initial, peak, mean}, dimension, units);
    cells.insert(cells.begin(), head(name, dimension, units));
    return cells;
  };
  Table table{.align = "lrrr", .head = {"", "at ignition", "peak", "mean"}};
  table.rows = {row("thrust", force, s.initial_thrust, s.peak_thrust, s.mean_thrust),
                row("pressure", pressure, s.initial_pressure, s.peak_pressure, s.mean_pressure),
                row("burning area", area, s.initial_burning_area, s.peak_burning_area, 0),
                row("Kn (burning area / throat area)", ratio, s.initial_kn, s.peak_kn, 0)};
  // Their means over time say nothing that the pressure does not.
  for (std::size_t i : {2U, 3U}) table.rows[i].back().clear();
  table.rows[3].front() = "Kn (burning area / throat area)";
  const Table sums = {
      .align = "ll",
      .rows = {
          {"burn time", show(s.burn_time, time, units)},
          {"total impulse", fmt::format("{}, letter class {}",
                                        show(s.total_impulse, impulse, units), s.letter_class)},
          {"specific impulse", show(s.specific_impulse, time, units)},
          {"propellant", show(s.propellant_mass, mass, units)},
          {"peak / mean thrust", show(s.neutrality, ratio, units)},
          {"port-to-throat",
           s.port_to_throat > 0 ? show(s.port_to_throat, ratio, units, 3) + ", minimum, at ignition"
                                : "no port"},
          {"peak mass flux", show(s.peak_mass_flux, mass_flux, units, 3)}}};
  return {table, sums};
}

void tell(Page& page, const Summary& summary, UnitSystem units) {
  const auto [changing, sums] = summary_tables(summary, units);
  page.table(changing);
  page.gap();
  page.table(sums);
}

std::string described(const Profile& profile) {
  if (profile == Profile::flat()) return "flat thrust";
  if (profile.straight() && profile(0) > profile(1)) {
    return fmt::format("front-loaded thrust, {} times the mean at ignition and {} at burnout",
                       show(profile(0), Dimension::ratio, UnitSystem::si, 3),
                       show(profile(1), Dimension::ratio, UnitSystem::si, 3));
  }
  return fmt::format("thrust through {} points", profile.points().size());
}

std::string described(const Wish& wish) {
  return wish.for_the_rail ? "the most impulse that leaves the rail as asked"
                           : described(wish.profile);
}

std::vector<std::string> remarks_of(const Job& job, const Assessment& found) {
  std::vector<std::string> remarks = found.remarks;
  if (found.margins) {
    remarks.insert(remarks.end(), found.margins->remarks.begin(), found.margins->remarks.end());
  }
  remarks.insert(remarks.end(), job.remarks.begin(), job.remarks.end());
  return remarks;
}

void tell_remarks(Page& page, const std::vector<std::string>& remarks) {
  if (remarks.empty()) return;
  page.heading("Remarks");
  for (const std::string& remark : remarks) page.item("- ", remark);
}

}  // namespace grainwright::cli
