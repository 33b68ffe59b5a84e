// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/workshop/cut_list.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "grainwright/grain/core.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

// A complaint does not know which units a reader prefers, so it says both.
std::string shown(double metres) {
  return show_length(metres, UnitSystem::si) + " (" +
         show(metres, Dimension::length, UnitSystem::us) + ")";
}

void check_options(const WorkshopOptions& options, std::vector<Complaint>& found) {
  const auto length = [&](const char* key, double value) {
    if (!std::isfinite(value) || value < 0) {
      found.push_back({key, show_length(value, UnitSystem::si), "a length of zero or more"});
    }
  };
  const auto fraction = [&](const char* key, double value) {
    if (!(value >= 0 && value < 1)) {
      found.push_back({key, show(value, Dimension::ratio, UnitSystem::si), "0 or more, below 1"});
    }
  };
  length("grain_room", options.grain_room);
  length("kerf", options.kerf);
  length("tube_stock", options.tube_stock);
  fraction("waste", options.waste);
  length("length_tolerance", options.length_tolerance);
  fraction("density_tolerance", options.density_tolerance);
  length("mandrel_grip", options.mandrel_grip);
}

void check_segments(const Grain& grain, double length_tolerance, std::vector<Complaint>& found) {
  for (const Layer& layer : grain.layers) {
    if (layer.segment.length <= length_tolerance) {
      found.push_back({"length_tolerance", shown(length_tolerance),
                       "less than the shortest segment, " + shown(layer.segment.length)});
    }
  }
}

double mass_of(const Segment& segment, double longer, double density) {
  return density * state_at(with_length(segment, segment.length + longer), 0).volume;
}

CutPiece cut_piece(const Layer& layer, double density, const WorkshopOptions& options) {
  const Segment& segment = layer.segment;
  CutPiece piece;
  piece.count = layer.count;
  piece.segment = segment;
  piece.tube_length = segment.length;
  piece.propellant_length = segment.length;
  if (!segment.solid()) {
    piece.mandrel_length = segment.length + 2 * options.mandrel_grip;
  }
  piece.mass = mass_of(segment, 0, density);
  // Worst case: length and density off the same way.
  piece.lightest =
      mass_of(segment, -options.length_tolerance, density * (1 - options.density_tolerance));
  piece.heaviest =
      mass_of(segment, options.length_tolerance, density * (1 + options.density_tolerance));
  return piece;
}

void check_room(CutList& list, int segments, const WorkshopOptions& options) {
  if (list.grain_room == 0) {
    list.remarks.push_back("The length of the grain room is not known, so the fit is not checked.");
    return;
  }
  list.room_left = list.grain_room - list.stack_length;
  const double slack = 1e-9;  // a nanometre, the rounding of sums
  if (list.room_left < -slack) {
    list.remarks.push_back("The stack is longer than the grain room by " +
                           show_length(-list.room_left, options.units) + ".");
  } else if (list.room_left < segments * options.length_tolerance - slack) {
    list.remarks.push_back(
        "The stack fits as drawn, but not when every segment comes out long by the tolerance of " +
        show_length(options.length_tolerance, options.units) + ".");
  }
}

void plan_saw(CutList& list, const WorkshopOptions& options) {
  if (options.tube_stock == 0) {
    list.remarks.push_back("The length of the stock tube is not known, so there is no saw plan.");
    return;
  }
  std::vector<double> lengths;
  for (const CutPiece& piece : list.pieces) {
    lengths.insert(lengths.end(), static_cast<std::size_t>(piece.count), piece.tube_length);
  }
  const double longest = *std::ranges::max_element(lengths);
  if (longest > options.tube_stock + 0.5e-9) {
    list.remarks.push_back("The longest segment, " + show_length(longest, options.units) +
                           ", cannot be cut from the stock tube of " +
                           show_length(options.tube_stock, options.units) +
                           ", so there is no saw plan.");
    return;
  }
  list.saw_plan = saw_plan(lengths, options.tube_stock, options.kerf);
  if (!list.saw_plan->proven) {
    list.remarks.push_back(
        "The saw plan is the best found; that no plan needs fewer tubes is not proven.");
  }
}

void weigh_batch(CutList& list, const Propellant& propellant, double waste) {
  for (const CutPiece& piece : list.pieces) list.propellant_mass += piece.count * piece.mass;
  list.batch = list.propellant_mass / (1 - waste);
  for (const Ingredient& ingredient : propellant.formula) {
    list.portions.push_back({ingredient.name, list.batch * ingredient.mass_fraction});
  }
  if (list.portions.empty()) {
    list.remarks.push_back("The propellant's formula is not known, so the batch is not divided.");
  }
}

}  // namespace

CutList cut_list(const Grain& grain, const Propellant& propellant, const WorkshopOptions& options) {
  std::vector<Complaint> found = complaints(grain);
  for (Complaint& complaint : complaints(propellant)) {
    complaint.key = "propellant." + complaint.key;
    found.push_back(std::move(complaint));
  }
  check_options(options, found);
  if (found.empty()) check_segments(grain, options.length_tolerance, found);
  if (!found.empty()) throw InputError(std::move(found));

  CutList list;
  for (const Layer& layer : grain.layers) {
    list.pieces.push_back(cut_piece(layer, propellant.density(), options));
  }
  const int segments = grain.segment_count();
  list.spacer = grain.spacer;
  list.spacers = grain.spacer > 0 ? segments - 1 : 0;
  list.stack_length = grain.stack_length();
  list.grain_room = options.grain_room;
  weigh_batch(list, propellant, options.waste);
  check_room(list, segments, options);
  plan_saw(list, options);
  return list;
}

}  // namespace grainwright
