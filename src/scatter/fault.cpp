// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/fault.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <memory>

#include "grainwright/quantity.hpp"
#include "quick_firing.hpp"

namespace grainwright {
namespace {

std::string length_words(double metres) {
  return write_length(metres);
}

/// The faces of a whole stack that would be taken for right by a fault which changes one.
void find_face_trouble(const Fault& fault, const Segment& segment, const std::string& where,
                       std::vector<Complaint>& found) {
  const bool solid = segment.solid();
  const Face face = fault.kind == FaultKind::debond ? Face::outer : fault.face;
  const std::string name(name_of(face));
  if (face == Face::core && solid) {
    found.push_back({where + "face", "core", "a face that the segment has: it is solid"});
  } else if (fault.kind == FaultKind::face_blocked && !segment.bare(face)) {
    found.push_back({where + "face", name + ", which does not burn anyway", "a bare face"});
  } else if (fault.kind != FaultKind::face_blocked && segment.bare(face)) {
    const std::string key = fault.kind == FaultKind::debond ? "kind" : "face";
    found.push_back({where + key, name + ", which burns anyway", "an inhibited face"});
  }
}

/// What this segment cannot suffer.
void find_own_trouble(const Fault& fault, const Segment& segment, const std::string& where,
                      std::vector<Complaint>& found) {
  switch (fault.kind) {
    case FaultKind::crack:
      if (segment.core) {
        found.push_back({where + "segment", "one whose core is not plain and round",
                         "a segment with a plain round core, or a solid one"});
      }
      if (!(std::isfinite(fault.extra_area) && fault.extra_area > 0)) {
        found.push_back({where + "extra_area", "none", "an area above zero"});
      }
      return;
    case FaultKind::wrong_core:
      if (!(fault.diameter > 0 && fault.diameter < segment.outer_diameter)) {
        found.push_back(
            {where + "core", length_words(fault.diameter), "above 0, narrower than the segment"});
      }
      return;
    default:
      find_face_trouble(fault, segment, where, found);
  }
}

/// What the segments that it leaves cannot be.
void find_segment_trouble(const Fault& fault, const Motor& motor, const std::string& where,
                          std::vector<Complaint>& found) {
  const auto drawn = [&](const ScenePiece& piece) {
    return std::ranges::any_of(motor.grain.layers,
                               [&](const Layer& layer) { return layer.segment == piece.segment; });
  };
  for (const ScenePiece& piece : with_fault(scene_of(motor), fault).pieces) {
    // What is as drawn has been looked at with the motor; an odd core's front takes milliseconds.
    if (drawn(piece)) continue;
    for (Complaint complaint : complaints(piece.segment)) {
      complaint.key = where + "kind";
      found.push_back(complaint);
    }
  }
}

/// The usual faults of one layer.
void add_usual(std::vector<Fault>& faults, const Segment& segment, std::size_t layer) {
  for (Face face : {Face::head, Face::nozzle}) {
    const FaultKind kind = segment.bare(face) ? FaultKind::face_blocked : FaultKind::face_lights;
    faults.push_back({.kind = kind, .layer = layer, .face = face});
  }
  if (!segment.bare(Face::outer)) faults.push_back({.kind = FaultKind::debond, .layer = layer});
  if (segment.core) return;
  const SegmentState state = state_at(segment, 0);
  faults.push_back(
      {.kind = FaultKind::crack, .layer = layer, .extra_area = 2 * state.volume / state.length});
}

/// Where they are more than a scatter takes: those with the highest steady peaks, in their order.
void keep_most_dangerous(std::vector<Fault>& faults, const Motor& motor) {
  if (faults.size() <= most_faults) return;
  std::vector<std::pair<double, std::size_t>> peaks;
  Draw draw = Inputs(motor, {}, {}).nominal();
  draw.faults = 1;
  const auto shapes = std::make_shared<Shapes>();
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const FiringGround ground(motor, {faults[i]}, shapes);
    QuickFiring trial(ground);
    trial.take(draw);
    peaks.emplace_back(-trial.steady_peak(), i);
  }
  std::ranges::sort(peaks);
  std::vector<std::size_t> kept;
  for (std::size_t k = 0; k < most_faults; ++k) kept.push_back(peaks[k].second);
  std::ranges::sort(kept);
  std::vector<Fault> most;
  for (std::size_t i : kept) most.push_back(faults[i]);
  faults = std::move(most);
}

/// The sizes next to one among those on offer.
std::vector<double> neighbours_of(double size, std::vector<double> offered) {
  constexpr double same = 1e-6;
  std::ranges::sort(offered);
  std::vector<double> found;
  for (double other : offered) {
    if (other < size * (1 - same)) found.assign(1, other);
  }
  const auto larger =
      std::ranges::find_if(offered, [&](double other) { return other > size * (1 + same); });
  if (larger != offered.end()) found.push_back(*larger);
  return found;
}

}  // namespace

std::string_view name_of(FaultKind kind) {
  switch (kind) {
    case FaultKind::face_lights:
      return "face lights";
    case FaultKind::face_blocked:
      return "face blocked";
    case FaultKind::crack:
      return "crack";
    case FaultKind::debond:
      return "debond";
    case FaultKind::wrong_throat:
      return "wrong throat";
    case FaultKind::wrong_core:
      return "wrong core";
  }
  return "";
}

const std::vector<FaultKind>& all_fault_kinds() {
  static const std::vector<FaultKind> kinds = {FaultKind::face_lights,  FaultKind::face_blocked,
                                               FaultKind::crack,        FaultKind::debond,
                                               FaultKind::wrong_throat, FaultKind::wrong_core};
  return kinds;
}

std::string described(const Fault& fault, const Motor& motor) {
  if (fault.kind == FaultKind::wrong_throat)
    return "throat drilled to " + length_words(fault.diameter);
  const auto& layers = motor.grain.layers;
  std::string who = layers.size() == 1 ? "segment" : fmt::format("segment {}", fault.layer + 1);
  if (fault.pieces > 1) who = fmt::format("{} of {}", fault.pieces, who);
  switch (fault.kind) {
    case FaultKind::face_lights:
      return fmt::format("{}: {} lights", who, name_of(fault.face));
    case FaultKind::face_blocked:
      return fmt::format("{}: {} blocked", who, name_of(fault.face));
    case FaultKind::crack:
      return who + " cracked";
    case FaultKind::debond:
      return who + " debonded";
    default:
      return fmt::format("{}: core of {}", who, length_words(fault.diameter));
  }
}

std::vector<Complaint> complaints(const Fault& fault, const Motor& motor, std::size_t index) {
  const std::string where = fmt::format("fault {}: ", index + 1);
  std::vector<Complaint> found;
  if (!(fault.probability >= 0 && fault.probability <= 1)) {
    found.push_back({where + "probability", std::to_string(fault.probability), "from 0 to 1"});
  }
  if (fault.kind == FaultKind::wrong_throat) {
    if (!(fault.diameter > 0)) found.push_back({where + "throat", "none", "a diameter above zero"});
    return found;
  }
  const auto& layers = motor.grain.layers;
  if (fault.layer >= layers.size()) {
    found.push_back({where + "segment", std::to_string(fault.layer + 1),
                     fmt::format("1 to {}: the job's [[segment]] tables", layers.size())});
    return found;
  }
  const Layer& layer = layers[fault.layer];
  if (fault.pieces < 1 || fault.pieces > layer.count) {
    found.push_back({where + "pieces", std::to_string(fault.pieces),
                     fmt::format("1 to {}, the count of that segment", layer.count)});
    return found;
  }
  find_own_trouble(fault, layer.segment, where, found);
  if (found.empty()) find_segment_trouble(fault, motor, where, found);
  return found;
}

std::vector<Fault> usual_faults(const Motor& motor, const std::vector<double>& throats,
                                const std::vector<double>& mandrels) {
  std::vector<Fault> faults;
  const auto& layers = motor.grain.layers;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    add_usual(faults, layers[i].segment, i);
    if (layers[i].segment.solid() || layers[i].segment.core) continue;
    for (double core : neighbours_of(layers[i].segment.core_diameter, mandrels)) {
      faults.push_back({.kind = FaultKind::wrong_core, .layer = i, .diameter = core});
    }
  }
  for (double throat : neighbours_of(motor.nozzle.throat_diameter, throats)) {
    faults.push_back({.kind = FaultKind::wrong_throat, .diameter = throat});
  }
  std::erase_if(faults, [&](const Fault& fault) { return !complaints(fault, motor, 0).empty(); });
  keep_most_dangerous(faults, motor);
  return faults;
}

}  // namespace grainwright
