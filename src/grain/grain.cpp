// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/grain/grain.hpp"

#include <algorithm>
#include <cmath>

#include "grainwright/quantity.hpp"
#include "segment_front.hpp"

namespace grainwright {
namespace {

// Gas made headward of a solid segment has no way to the nozzle, unless the outside burns free.
void find_blocked_ports(const Grain& grain, std::vector<Complaint>& found) {
  for (std::size_t i = 0; i < grain.layers.size(); ++i) {
    const Layer& layer = grain.layers[i];
    if (!layer.segment.solid() || layer.segment.bare(Face::outer)) continue;
    const bool gas_headward = i > 0 || layer.count > 1 || layer.segment.bare(Face::head);
    if (!gas_headward) continue;
    found.push_back({"segment " + std::to_string(i + 1) + ": core",
                     "0 (solid), with burning faces headward of it",
                     "a core for the gas to flow through; only a single segment at the head end, "
                     "its head face inhibited, may be solid"});
  }
}

}  // namespace

int Grain::segment_count() const {
  int count = 0;
  for (const Layer& layer : layers) count += layer.count;
  return count;
}

double Grain::stack_length() const {
  double length = 0;
  for (const Layer& layer : layers) length += layer.count * layer.segment.length;
  const int count = segment_count();
  return count > 0 ? length + (count - 1) * spacer : 0;
}

double Grain::propellant_volume() const {
  double volume = 0;
  for (const Layer& layer : layers) volume += layer.count * state_at(layer.segment, 0).volume;
  return volume;
}

std::vector<Complaint> complaints(const Grain& grain) {
  std::vector<SharedFront> fronts;
  return complaints(grain, fronts);
}

std::vector<Complaint> complaints(const Grain& grain, std::vector<SharedFront>& fronts) {
  std::vector<Complaint> found;
  if (grain.layers.empty()) found.push_back({"segment", "none", "at least one segment"});
  if (!std::isfinite(grain.spacer) || grain.spacer < 0) {
    found.push_back(
        {"spacer", write_quantity(grain.spacer, Dimension::length), "a length of zero or more"});
  }
  for (std::size_t i = 0; i < grain.layers.size(); ++i) {
    const std::string where = "segment " + std::to_string(i + 1) + ": ";
    if (grain.layers[i].count < 1) {
      found.push_back({where + "count", std::to_string(grain.layers[i].count), "1 or more"});
    }
    for (Complaint complaint : complaints(grain.layers[i].segment, fronts.emplace_back())) {
      complaint.key = where + complaint.key;
      found.push_back(complaint);
    }
  }
  if (!found.empty()) return found;
  int segments = 0;
  for (const Layer& layer : grain.layers) {
    segments += std::min(layer.count, most_segments + 1 - segments);
  }
  if (segments > most_segments) {
    return {{"segment", "more than " + std::to_string(most_segments) + " segments",
             "at most " + std::to_string(most_segments) + " in one stack"}};
  }
  find_blocked_ports(grain, found);
  return found;
}

}  // namespace grainwright
