// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/motor_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>

#include "cut.hpp"
#include "grainwright/report/html.hpp"
#include "ink.hpp"
#include "layout.hpp"

namespace grainwright {
namespace {

using drawing::Cut;
using drawing::Layout;
using drawing::mirrored;
using drawing::mirrored_line;
using drawing::path;
using drawing::Placed;
using drawing::placed;
using drawing::Spot;

/// What is left of a segment with a plain round core, in half section: a box.
struct Left {
  double from = 0;
  double to = 0;
  double inner = 0;
  double outer = 0;
};

Left left_of(const Segment& segment, double web) {
  const SegmentState state = state_at(segment, web);
  const double from = segment.bare(Face::head) ? web : 0;
  return {from, from + state.length, state.core_diameter / 2, state.outer_diameter / 2};
}

/// The side of a box that a face is.
std::vector<Spot> side_of(const Left& left, Face face) {
  switch (face) {
    case Face::head:
      return {{left.from, left.inner}, {left.from, left.outer}};
    case Face::nozzle:
      return {{left.to, left.inner}, {left.to, left.outer}};
    case Face::core:
      return {{left.from, left.inner}, {left.to, left.inner}};
    case Face::outer:
      return {{left.from, left.outer}, {left.to, left.outer}};
  }
  return {};
}

/// One segment in its place, and how its cut burns where its core is not plain and round.
struct Piece {
  double z = 0;
  const Segment* segment = nullptr;
  std::shared_ptr<const Cut> cut = nullptr;
};

/// Equal neighbours share one cut, which may take milliseconds to work out.
std::vector<Piece> pieces_of(const Grain& grain) {
  std::vector<Piece> pieces;
  for (const Placed& place : placed(grain)) {
    const bool again = !pieces.empty() && pieces.back().segment == place.segment;
    pieces.push_back({place.z, place.segment, again ? pieces.back().cut : nullptr});
    if (!again && place.segment->core) pieces.back().cut = std::make_shared<Cut>(*place.segment);
  }
  return pieces;
}

/// The drawing's frame moved to where a segment begins.
Layout moved_to(Layout layout, double z) {
  layout.left += layout.unit * z;
  return layout;
}

Ink ink_at(const Layout& layout) {
  return Ink({layout.left, layout.axis}, layout.unit);
}

void add_cut(SectionPaths& paths, const Cut& cut, const Layout& layout, double web) {
  const drawing::Remains remains = cut.at(web);
  const Ink ink = ink_at(layout);
  for (const Ring& ring : remains.propellant) paths.propellant += ink.path_of(ring);
  paths.front += ink.path_of(remains.front);
}

void add_plain(SectionPaths& paths, const Segment& segment, const Layout& layout, double web) {
  if (web >= burnout_web(segment)) return;
  const Left left = left_of(segment, web);
  paths.propellant += mirrored(layout, {{left.from, left.inner},
                                        {left.to, left.inner},
                                        {left.to, left.outer},
                                        {left.from, left.outer}});
  for (Face face : all_faces) {
    if (segment.bare(face)) paths.front += mirrored_line(layout, side_of(left, face));
  }
}

SectionPaths paths_of(const std::vector<Piece>& pieces, const Layout& layout, double web) {
  SectionPaths paths;
  for (const Piece& piece : pieces) {
    const Layout here = moved_to(layout, piece.z);
    if (piece.cut) {
      add_cut(paths, *piece.cut, here, web);
    } else {
      add_plain(paths, *piece.segment, here, web);
    }
  }
  return paths;
}

std::string inhibited_data(const std::vector<Piece>& pieces, const Layout& layout) {
  std::string data;
  for (const Piece& piece : pieces) {
    const Layout here = moved_to(layout, piece.z);
    if (piece.cut) {
      data += ink_at(here).path_of(piece.cut->held());
      continue;
    }
    for (Face face : all_faces) {
      const bool there = face != Face::core || !piece.segment->solid();
      if (there && piece.segment->inhibited.contains(face)) {
        data += mirrored_line(here, side_of(left_of(*piece.segment, 0), face));
      }
    }
  }
  return data;
}

std::string tubes_svg(const MotorParts& parts, const Layout& layout) {
  if (!parts.casing || parts.casing->tube_wall == 0) return "";
  std::string data;
  for (const Placed& piece : placed(parts.motor.grain)) {
    const double inner = piece.segment->outer_diameter / 2;
    const double outer = inner + parts.casing->tube_wall;
    const double end = piece.z + piece.segment->length;
    data += mirrored(layout, {{piece.z, inner}, {end, inner}, {end, outer}, {piece.z, outer}});
  }
  return path("tube", data);
}

// ------------------------------------------------------------------------------------------ sizes

std::string length_words(double metres, UnitSystem units) {
  return show(metres, Dimension::length, units, 5);
}

std::string text(double x, double y, std::string_view anchor, const std::string& words) {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n", x, y, anchor,
                     escaped(words));
}

/// A size along the axis, under the motor at `y`: written where it has room, unless `always`.
std::string size_svg(const Layout& layout, double from, double to, double y, UnitSystem units,
                     bool always) {
  const double x1 = layout.x(from);
  const double x2 = layout.x(to);
  std::string svg =
      path("size", fmt::format("M{0:.1f} {2:.1f}v8M{1:.1f} {2:.1f}v8M{0:.1f} {3:.1f}H{1:.1f}", x1,
                               x2, y - 4, y));
  const std::string words = length_words(to - from, units);
  if (!always && x2 - x1 < 7.5 * static_cast<double>(words.size())) return svg;
  return svg + text((x1 + x2) / 2, y + 17, "middle", words);
}

std::string sizes_svg(const MotorParts& parts, const Layout& layout, double y) {
  std::string svg;
  const std::vector<Placed> pieces = placed(parts.motor.grain);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Placed& piece = pieces[i];
    const double end = piece.z + piece.segment->length;
    svg += size_svg(layout, piece.z, end, y, parts.units, false);
    svg += text(layout.x((piece.z + end) / 2), 14, "middle", std::to_string(i + 1));
  }
  svg += size_svg(layout, 0, layout.room, y + 34, parts.units, true);
  const Nozzle& nozzle = parts.motor.nozzle;
  std::string words = "throat " + length_words(nozzle.throat_diameter, parts.units);
  if (!nozzle.straight()) words += ", exit " + length_words(nozzle.exit_diameter, parts.units);
  return svg + text(drawing::width - 8, y + 51, "end", words);
}

/// A bar of a round length, a fifth of the drawing at most.
std::string bar_svg(const Layout& layout, double y, UnitSystem units) {
  constexpr std::array millimetres = {5e-3, 10e-3, 20e-3, 50e-3, 100e-3, 200e-3, 500e-3};
  constexpr std::array inches = {0.0127, 0.0254, 0.0508, 0.127, 0.254, 0.508};
  double length = 0;
  const auto longest = [&](double candidate) {
    if (length == 0 || candidate * layout.unit <= drawing::width / 6) length = candidate;
  };
  if (units == UnitSystem::si) std::ranges::for_each(millimetres, longest);
  if (units == UnitSystem::us) std::ranges::for_each(inches, longest);
  const double wide = length * layout.unit;
  return fmt::format(
             "<rect class=\"bar\" x=\"8\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"5\"/>\n"
             "<rect class=\"bar half\" x=\"8\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"5\"/>\n",
             y + 55, wide, y + 55, wide / 2) +
         text(wide + 16, y + 62, "start", length_words(length, units) + ", to scale");
}

std::string opening(double height, std::string_view more) {
  return fmt::format("<svg viewBox=\"0 0 {} {:.0f}\"{}>\n", drawing::width, height, more);
}

}  // namespace

std::vector<SectionPaths> grain_sections(const MotorParts& parts, const std::vector<double>& webs) {
  const Layout layout = drawing::layout_of(parts);
  const std::vector<Piece> pieces = pieces_of(parts.motor.grain);
  std::vector<SectionPaths> sections;
  for (double web : webs) sections.push_back(paths_of(pieces, layout, web));
  return sections;
}

std::string motor_svg(const MotorParts& parts, const std::vector<double>& contours) {
  const Layout layout = drawing::layout_of(parts);
  const std::vector<Piece> pieces = pieces_of(parts.motor.grain);
  const SectionPaths paths = paths_of(pieces, layout, 0);
  std::string traced;
  for (double web : contours) traced += paths_of(pieces, layout, web).front;
  const double under = 2 * layout.axis - 10;
  return opening(under + 68, fmt::format(" class=\"motor\" role=\"img\" aria-label=\"{}\"",
                                         escaped(motor_words(parts)))) +
         drawing::shell_svg(parts, layout) + tubes_svg(parts, layout) +
         "<path class=\"propellant\" id=\"propellant\" d=\"" + paths.propellant + "\"/>\n" +
         "<path class=\"contours\" id=\"contours\" d=\"" + traced + "\"/>\n" +
         path("inhibited", inhibited_data(pieces, layout)) +
         "<path class=\"front\" id=\"front\" d=\"" + paths.front + "\"/>\n" +
         path("axis", fmt::format("M4 {0:.1f}H{1}", layout.axis, drawing::width - 4)) +
         sizes_svg(parts, layout, under) + bar_svg(layout, under, parts.units) + "</svg>\n";
}

std::string motor_still(const MotorParts& parts, double web) {
  const Layout layout = drawing::layout_of(parts);
  const std::vector<Piece> pieces = pieces_of(parts.motor.grain);
  const SectionPaths paths = paths_of(pieces, layout, web);
  return opening(2 * layout.axis, " class=\"motor still\" aria-hidden=\"true\"") +
         drawing::shell_svg(parts, layout) + tubes_svg(parts, layout) +
         path("propellant", paths.propellant) + path("inhibited", inhibited_data(pieces, layout)) +
         path("front", paths.front) + "</svg>\n";
}

std::string motor_words(const MotorParts& parts) {
  const Motor& motor = parts.motor;
  std::string words = fmt::format("The motor in section, to scale, head end left: {} segments",
                                  motor.grain.segment_count());
  for (const auto& [segment, count] : motor.grain.layers) {
    const std::string core = segment.core ? "a core of its own shape"
                             : segment.solid()
                                 ? "no core"
                                 : "a core of " + length_words(segment.core_diameter, parts.units);
    words +=
        fmt::format("; {} of {} with {}", count, length_words(segment.length, parts.units), core);
  }
  return words +
         fmt::format("; a throat of {}.", length_words(motor.nozzle.throat_diameter, parts.units));
}

}  // namespace grainwright
