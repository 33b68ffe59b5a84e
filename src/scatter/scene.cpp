// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "grainwright/strength/change.hpp"

namespace grainwright {
namespace {

using std::numbers::pi;

Faces without(Faces faces, Face face) {
  Faces rest;
  for (Face other : all_faces) {
    if (other != face && faces.contains(other)) rest.insert(other);
  }
  return rest;
}

Faces with(Faces faces, Face face) {
  faces.insert(face);
  return faces;
}

/// A segment cut across into equal parts whose cuts burn.
void add_parts(std::vector<ScenePiece>& pieces, const ScenePiece& whole, double count, int parts,
               bool round_up = false) {
  if (count <= 0) return;
  for (int i = 0; i < parts; ++i) {
    ScenePiece part = whole;
    part.round_up = round_up;
    part.count = count;
    part.length_share = whole.length_share / parts;
    part.segment.length = whole.segment.length / parts;
    Faces& inhibited = part.segment.inhibited;
    if (i > 0) inhibited = without(inhibited, Face::head);
    if (i + 1 < parts) inhibited = without(inhibited, Face::nozzle);
    pieces.push_back(part);
  }
}

/// Cracks through whole sections, and one through the part of a section that is left over.
void add_cracked(std::vector<ScenePiece>& pieces, const ScenePiece& hit, double extra_area) {
  const SegmentState state = state_at(hit.segment, 0);
  const double both_sides = 2 * state.volume / state.length;
  const double cracks = extra_area / both_sides;
  const int whole = static_cast<int>(cracks);
  const double part = cracks - whole;
  add_parts(pieces, hit, hit.count * (1 - part), whole + 1);
  add_parts(pieces, hit, hit.count * part, whole + 2, true);
}

}  // namespace

Scene scene_of(const Motor& motor) {
  Scene scene{{}, motor.nozzle.throat_diameter};
  for (std::size_t i = 0; i < motor.grain.layers.size(); ++i) {
    const Layer& layer = motor.grain.layers[i];
    scene.pieces.push_back({layer.segment, static_cast<double>(layer.count), i});
  }
  return scene;
}

Scene with_fault(Scene scene, const Fault& fault) {
  if (fault.kind == FaultKind::wrong_throat) {
    scene.throat_diameter = fault.diameter;
    return scene;
  }
  const auto found = std::ranges::find_if(scene.pieces, [&](const ScenePiece& piece) {
    return piece.layer == fault.layer && piece.count >= fault.pieces;
  });
  if (found == scene.pieces.end()) return scene;
  ScenePiece hit = *found;
  hit.count = fault.pieces;
  found->count -= fault.pieces;
  if (found->count == 0) scene.pieces.erase(found);
  Faces& inhibited = hit.segment.inhibited;
  switch (fault.kind) {
    case FaultKind::face_lights:
      inhibited = without(inhibited, fault.face);
      break;
    case FaultKind::face_blocked:
      inhibited = with(inhibited, fault.face);
      break;
    case FaultKind::debond:
      inhibited = without(inhibited, Face::outer);
      break;
    case FaultKind::wrong_core:
      hit.segment.core_diameter = fault.diameter;
      hit.segment.core = nullptr;
      break;
    case FaultKind::crack:
      add_cracked(scene.pieces, hit, fault.extra_area);
      return scene;
    case FaultKind::wrong_throat:
      break;
  }
  scene.pieces.push_back(hit);
  return scene;
}

void put_in_order(Scene& scene) {
  const auto port = [](const ScenePiece& piece) {
    const Segment& segment = piece.segment;
    if (segment.core) return piece.port_area;
    // Nothing may be headward of a solid segment.
    return segment.solid() ? std::numeric_limits<double>::infinity()
                           : pi / 4 * segment.core_diameter * segment.core_diameter;
  };
  std::ranges::stable_sort(scene.pieces, [&](const ScenePiece& a, const ScenePiece& b) {
    return a.layer != b.layer ? a.layer < b.layer : port(a) > port(b);
  });
}

Motor motor_of(const Scene& scene, const Motor& drawn) {
  Motor motor = with_throat(drawn, scene.throat_diameter);
  Grain grain{{}, drawn.grain.spacer};
  for (const ScenePiece& piece : scene.pieces) {
    if (piece.length_share != 1 || piece.count != std::floor(piece.count)) return motor;
    grain.layers.push_back({piece.segment, static_cast<int>(piece.count)});
  }
  motor.grain = grain;
  return motor;
}

}  // namespace grainwright
