// SPDX-License-Identifier: GPL-3.0-or-later
#include "core_picture.hpp"

#include "report/cut.hpp"
#include "report/ink.hpp"

namespace grainwright::bench {
namespace {

Ink canvas() {
  return Ink({0, 0}, picture_scale);
}

std::string paths_of(const std::vector<Ring>& rings) {
  std::string data;
  for (const Ring& ring : rings) data += canvas().path_of(ring);
  return data;
}

std::string end_view(const Outline& outline) {
  std::string data;
  for (const Region& region : outline.voids) {
    data += canvas().path_of(region.outer) + paths_of(region.holes);
  }
  return data;
}

}  // namespace

Json picture_of(const Segment& segment) {
  if (!segment.core || !complaints(segment).empty()) return nullptr;
  const drawing::WholeCut cut(segment);
  Json faces = Json::object();
  for (Face face : all_faces) {
    faces[std::string(name_of(face))] = canvas().path_of(cut.face(face));
  }
  Json picture = {{"cut", paths_of(cut.propellant())}, {"faces", std::move(faces)}};
  if (cut.outline()) picture["end"] = end_view(*cut.outline());
  return picture;
}

}  // namespace grainwright::bench
