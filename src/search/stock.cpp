// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace grainwright {
namespace {

// Webs this close together, relative to the larger, are one.
constexpr double same_web = 1e-13;

/// A segment as long as it is wide, whose ends do not meet before its core is out.
Burnback probe(const Core& core, double outer_diameter, Faces inhibited) {
  Segment segment{.length = outer_diameter, .outer_diameter = outer_diameter};
  segment.inhibited = inhibited;
  return Burnback({{{with_core(std::move(segment), core)}}});
}

/// The stretch that goes on from a web, the earlier ones passed over.
const Stretch& from_here(std::span<const Stretch> stretches, std::size_t& at, double from) {
  while (at + 1 < stretches.size() && stretches[at].to <= from * (1 + same_web)) ++at;
  return stretches[at];
}

/// Rounding may take an area under zero where it tends there; what burns stays the same.
void lift(Stretch& stretch) {
  if (area_range(stretch).least >= 0) return;
  const double burned = stretch.area.integral(stretch.from, stretch.to);
  stretch.area = {{std::max(0.0, burned / (stretch.to - stretch.from)), 0, 0}};
}

}  // namespace

CoreBurn::CoreBurn(const Core& core, double outer_diameter) {
  const Burnback sealed = probe(core, outer_diameter, {Face::outer, Face::head, Face::nozzle});
  const Burnback open = probe(core, outer_diameter, {Face::outer, Face::nozzle});
  section_ = sealed.propellant_volume(0) / outer_diameter;
  port_ = sealed.port_areas(0).front();
  std::vector<double> cuts;
  for (const Stretch& stretch : sealed.stretches()) cuts.push_back(stretch.to);
  for (const Stretch& stretch : open.stretches()) cuts.push_back(stretch.to);
  std::ranges::sort(cuts);
  double from = 0;
  std::size_t at_sealed = 0;
  std::size_t at_open = 0;
  for (double to : cuts) {
    if (to <= from * (1 + same_web)) continue;
    const Quadratic& side = from_here(sealed.stretches(), at_sealed, from).area;
    Quadratic end = from_here(open.stretches(), at_open, from).area;
    end += -1.0 * side;
    pieces_.push_back({from, to, 1 / outer_diameter * side, end});
    from = to;
  }
}

SharedStretches CoreBurn::stretches(double length, int bare_ends, int count) const {
  std::vector<Stretch> made;
  made.reserve(pieces_.size());
  for (const Piece& piece : pieces_) {
    Stretch stretch{piece.from, piece.to, count * length * piece.girth};
    stretch.area += count * bare_ends * piece.end;
    const bool ends_meet = bare_ends * piece.to >= length;
    if (ends_meet) stretch.to = length / bare_ends;
    lift(stretch);
    made.push_back(stretch);
    if (ends_meet) break;
  }
  return std::make_shared<const std::vector<Stretch>>(std::move(made));
}

StockedTask::StockedTask(SearchTask task) : SearchTask(std::move(task)) {
  for (const Core& core : shop.cores) burns.emplace_back(core, outer_diameter);
}

int rods_of(const Shop& shop) {
  return static_cast<int>(shop.mandrels.size() + shop.cores.size());
}

Segment segment_of(const SearchTask& task, int rod) {
  Segment segment{.outer_diameter = task.outer_diameter};
  const auto number = static_cast<std::size_t>(rod);
  const std::size_t round = task.shop.mandrels.size();
  if (number < round) {
    segment.core_diameter = task.shop.mandrels[number];
    return segment;
  }
  return with_core(std::move(segment), task.shop.cores[number - round]);
}

std::vector<Complaint> stock_complaints(const SearchTask& task) {
  std::vector<Complaint> found;
  for (std::size_t i = 0; i < task.shop.cores.size(); ++i) {
    const std::string key = "shop.cores " + std::to_string(i + 1);
    if (std::holds_alternative<TurnedCore>(task.shop.cores[i].shape)) {
      found.push_back({key, "a core that changes along its rod",
                       "one that is the same from end to end, so that it has any length"});
      continue;
    }
    Segment segment{.length = task.outer_diameter, .outer_diameter = task.outer_diameter};
    for (Complaint complaint : complaints(with_core(std::move(segment), task.shop.cores[i]))) {
      // The segment's "core" is the rod's own table here.
      const bool inner = complaint.key.starts_with("core.");
      complaint.key = inner ? key + ": " + complaint.key.substr(5) : key;
      found.push_back(std::move(complaint));
    }
  }
  return found;
}

}  // namespace grainwright
