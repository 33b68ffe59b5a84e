// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/grain_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "cut.hpp"
#include "cut_plane.hpp"
#include "grainwright/grain/core.hpp"
#include "ink.hpp"

namespace grainwright {
namespace {

using drawing::turned_of;

constexpr double margin = 46;         // px around a view, for its sizes
constexpr double section_size = 260;  // px, of a section's tube
constexpr double size_height = 38;    // px, of a size below a view
constexpr double key_height = 40;
constexpr double step_tolerance = 1e-9;

std::string shown(double metres, UnitSystem units) {
  return show_length(metres, units);
}

Outline void_of(const Segment& segment) {
  if (segment.core) {
    if (auto outline = outline_of(*segment.core)) return *outline;
  }
  return segment.core_diameter > 0 ? round_cores({{{0, 0}, segment.core_diameter / 2}}) : Outline{};
}

bool is_turned(const Segment& segment) {
  return segment.core && std::holds_alternative<TurnedCore>(segment.core->shape);
}

std::string rings_of(const Ink& ink, const Outline& outline) {
  std::string data;
  for (const Region& region : outline.voids) {
    data += ink.path_of(region.outer);
    for (const Ring& hole : region.holes) data += ink.path_of(hole);
  }
  return data;
}

// The void of the outline grown by `web` is the outline drawn with a round pen: what is left past
// that, inside the wall, is hatched.
void draw_propellant(Ink& ink, const std::string& rings, double radius, double web,
                     const std::string& id) {
  ink.raw(fmt::format("<defs>{}<clipPath id=\"{}-wall\">", hatch(id + "-hatch"), id));
  ink.circle(radius, "");
  ink.raw("</clipPath></defs>\n");
  const bool sliver = web > 0;
  ink.circle(radius, sliver ? fmt::format("fill=\"url(#{}-hatch)\"", id)
                            : fmt::format("fill=\"{}\"", paint::sand));
  if (!sliver) return;
  ink.path(rings, fmt::format("clip-path=\"url(#{0}-wall)\" fill=\"{1}\" fill-rule=\"evenodd\" "
                              "stroke=\"{1}\" stroke-width=\"{2:.2f}\" stroke-linejoin=\"round\"",
                              id, paint::sand, 2 * ink.px(web)));
}

std::vector<Stroke> moved(std::vector<Stroke> strokes, double z, bool mirrored) {
  const double side = mirrored ? -1 : 1;
  for (Stroke& stroke : strokes) {
    stroke = {{stroke.from.x + z, side * stroke.from.y},
              {stroke.to.x + z, side * stroke.to.y},
              side * stroke.turn};
  }
  return strokes;
}

// Draws one segment cut along the axis; `z` is its head end.
class CutSegment {
 public:
  CutSegment(Ink& ink, const Segment& segment, double z)
      : ink_(ink), segment_(segment), z_(z), radius_(segment.outer_diameter / 2) {}

  void draw(double step) {
    if (const auto body = turned_of(segment_)) {
      draw_turned(*body, step);
    } else {
      draw_swept(step);
    }
    const double end = z_ + segment_.length;
    if (!segment_.bare(Face::outer)) {
      hold({z_, radius_}, {end, radius_});
      hold({z_, -radius_}, {end, -radius_});
    }
  }

 private:
  void hold(Point from, Point to) {
    ink_.path(ink_.path_of(std::vector<Stroke>{{from, to, 0}}), "class=\"held\"");
  }

  void draw_turned(const Turned& body, double step) {
    const HalfSection profile = profile_of(body);
    const RevolvedFront front(profile);
    for (const bool mirrored : {false, true}) {
      const double side = mirrored ? -1 : 1;
      Ring ring;
      for (const ProfileCorner& corner : profile) {
        ring.push_back({{z_ + corner.z, side * corner.r}, 0});
      }
      ink_.path(ink_.path_of(ring), fmt::format("fill=\"{}\" stroke=\"{}\" stroke-width=\"1.4\"",
                                                paint::sand, paint::ink));
      for (double web = step; web < front.burnout() * (1 - step_tolerance); web += step) {
        ink_.path(ink_.path_of(moved(front.strokes(web), z_, mirrored)), "class=\"front\"");
      }
      for (std::size_t i = 0; i < profile.size(); ++i) {
        const ProfileCorner& next = profile[(i + 1) % profile.size()];
        const bool on_axis = profile[i].r == 0 && next.r == 0;
        if (!profile[i].bare && !on_axis) hold(ring[i].at, ring[(i + 1) % ring.size()].at);
      }
    }
  }

  void draw_swept(double step) {
    const Outline outline = turned_to_show(*outline_of(*segment_.core), radius_);
    const CutPlane plane(outline, radius_);
    const PlanarFront front(outline, radius_);
    const double end = z_ + segment_.length;
    ink_.rectangle({z_, -radius_}, {end, radius_}, "class=\"void\"");
    for (const auto& [low, high] : plane.propellant(plane.heights(), 0)) {
      ink_.rectangle(
          {z_, low}, {end, high},
          fmt::format("fill=\"{}\" stroke=\"{}\" stroke-width=\"1.4\"", paint::sand, paint::ink));
      if (!segment_.bare(Face::head)) hold({z_, low}, {z_, high});
      if (!segment_.bare(Face::nozzle)) hold({end, low}, {end, high});
    }
    const double burnout = burnout_web(segment_);
    for (double web = step; web < burnout * (1 - step_tolerance); web += step) {
      draw_swept_front(plane, front, web);
    }
  }

  // The front in the plane of the axis: where the core's front passes it, and the ends between.
  void draw_swept_front(const CutPlane& plane, const PlanarFront& front, double web) {
    const bool core_burns = segment_.bare(Face::core);
    const double from = z_ + (segment_.bare(Face::head) ? web : 0);
    const double to = z_ + segment_.length - (segment_.bare(Face::nozzle) ? web : 0);
    const double burned = core_burns ? web : 0;
    const std::vector<double> heights =
        core_burns ? crossings_of(front.strokes(web)) : plane.heights();
    std::vector<Stroke> strokes;
    for (const auto& [low, high] : plane.propellant(heights, burned)) {
      for (double y : {low, high}) {
        if (core_burns && std::abs(y) < radius_) strokes.push_back({{from, y}, {to, y}, 0});
      }
      if (segment_.bare(Face::head)) strokes.push_back({{from, low}, {from, high}, 0});
      if (segment_.bare(Face::nozzle)) strokes.push_back({{to, low}, {to, high}, 0});
    }
    ink_.path(ink_.path_of(strokes), "class=\"front\"");
  }

  Ink& ink_;
  const Segment& segment_;
  double z_;
  double radius_;
};

// What the marks mean.
std::string key_of(double step, const DrawingOptions& options, bool sections) {
  std::string body = fmt::format("<defs>{}</defs>\n", hatch(options.id + "-key"));
  double x = 12;
  const auto entry = [&](const std::string& mark, const std::string& words) {
    body += fmt::format(
        "<g transform=\"translate({:.0f} 14)\">{}<text x=\"32\" y=\"11\">{}</text></g>\n", x, mark,
        words);
    x += 46 + 6.6 * static_cast<double>(words.size());
  };
  const auto box = [](const std::string& fill) {
    return fmt::format("<rect width=\"26\" height=\"14\" fill=\"{}\" stroke=\"{}\"/>", fill,
                       paint::ink);
  };
  entry(box(std::string(paint::sand)), "propellant");
  entry("<path d=\"M0 7H26\" class=\"front\"/>",
        fmt::format("front, each {} of web", shown(step, options.units)));
  entry("<path d=\"M0 7H26\" class=\"held\"/>", "inhibited");
  if (sections) entry(box("url(#" + options.id + "-key)"), "left when the front meets the wall");
  return svg_element(options.width, key_height, body);
}

std::string placed(const Picture& picture, double x, double y) {
  return fmt::format("<g transform=\"translate({:.2f} {:.2f})\">\n{}</g>\n", x, y, picture.svg);
}

}  // namespace

double contour_step(double burnout, const DrawingOptions& options) {
  const double unit = options.units == UnitSystem::si ? 1e-3 : 25.4e-3 / 32;
  const double wanted = burnout / (options.contours + 1) / unit;
  constexpr double nice[] = {0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 4, 5, 8, 10, 16, 20, 50};
  double step = nice[0];
  for (double one : nice) {
    if (std::abs(std::log(one / wanted)) < std::abs(std::log(step / wanted))) step = one;
  }
  return step * unit;
}

Picture section_picture(const Segment& segment, double step, const DrawingOptions& options) {
  const double radius = segment.outer_diameter / 2;
  const double side = section_size + 2 * margin;
  Ink ink({side / 2, margin / 2 + section_size / 2}, section_size / segment.outer_diameter);
  const Outline outline = void_of(segment);
  const std::string rings = rings_of(ink, outline);
  const bool core_burns = segment.bare(Face::core) && !outline.voids.empty();
  const double meets = web_to_wall(segment);
  std::optional<PlanarFront> front;
  if (core_burns) front.emplace(outline, radius);
  const bool sliver = front && meets > 0 && front->section(meets) > 1e-9 * radius * radius;
  draw_propellant(ink, rings, radius, sliver ? meets : 0, options.id);
  if (front) {
    for (double web = step; web < front->burnout() * (1 - step_tolerance); web += step) {
      ink.path(ink.path_of(front->strokes(web)), "class=\"front\"");
    }
  }
  ink.path(rings, fmt::format("class=\"{}\" clip-path=\"url(#{}-wall)\" fill-rule=\"evenodd\"",
                              core_burns ? "void" : "void held", options.id));
  ink.circle(radius, segment.bare(Face::outer) ? "class=\"wall\"" : "class=\"held\"");
  ink.level_size({-radius, 0}, {radius, 0}, ink.px(radius) + 14,
                 shown(segment.outer_diameter, options.units));
  const double height = margin / 2 + section_size + size_height;
  return {side, height, svg_element(side, height, ink.body())};
}

Picture stack_picture(const Burnback& burnback, double step, const DrawingOptions& options) {
  const Grain& grain = burnback.grain();
  double radius = 0;
  for (const Layer& layer : grain.layers)
    radius = std::max(radius, layer.segment.outer_diameter / 2);
  const double length = grain.stack_length();
  const double scale = std::min((options.width - 2 * margin) / length, section_size / (2 * radius));
  const double height = 2 * radius * scale + margin / 2 + 2 * size_height;
  Ink ink({margin, margin / 2 + radius * scale}, scale);
  double z = 0;
  for (const Layer& layer : grain.layers) {
    for (int i = 0; i < layer.count; ++i) {
      CutSegment(ink, layer.segment, z).draw(step);
      ink.level_size({z, -radius}, {z + layer.segment.length, -radius}, 14,
                     shown(layer.segment.length, options.units));
      z += layer.segment.length + grain.spacer;
    }
  }
  ink.path(ink.path_of(std::vector<Stroke>{{{-0.02 * length, 0}, {1.02 * length, 0}, 0}}),
           "class=\"size\" stroke-dasharray=\"12 3 2 3\"");
  const double outer = grain.layers.front().segment.outer_diameter / 2;
  ink.upright_size({0, -outer}, {0, outer}, margin - 18, shown(2 * outer, options.units));
  if (grain.segment_count() > 1) {
    ink.level_size({0, -radius}, {length, -radius}, 36, shown(length, options.units));
  }
  return {options.width, height, svg_element(options.width, height, ink.body())};
}

std::string burnback_svg(const Burnback& burnback, const DrawingOptions& options) {
  const double step = contour_step(burnback.burnout(), options);
  std::string body =
      fmt::format("<rect width=\"100%\" height=\"100%\" fill=\"{}\"/>\n", paint::paper);
  std::vector<Segment> drawn;  // unlike cores
  double x = 0;
  double y = 0;
  double row = 0;
  for (const Layer& layer : burnback.grain().layers) {
    const Segment& segment = layer.segment;
    const auto same = [&](const Segment& other) {
      return other.core_diameter == segment.core_diameter &&
             (other.core && segment.core ? *other.core == *segment.core
                                         : other.core == segment.core);
    };
    if (is_turned(segment) || segment.solid() || std::ranges::any_of(drawn, same)) continue;
    DrawingOptions own = options;
    own.id += fmt::format("-{}", drawn.size() + 1);
    const Picture picture = section_picture(segment, step, own);
    drawn.push_back(segment);
    if (x > 0 && x + picture.width > options.width) {
      x = 0;
      y += row;
    }
    body += placed(picture, x, y);
    x += picture.width;
    row = picture.height;
  }
  y += row;
  const Picture stack = stack_picture(burnback, step, options);
  body += placed(stack, 0, y);
  y += stack.height;
  body += placed({0, 0, key_of(step, options, !drawn.empty())}, 0, y);
  return svg_element(options.width, y + key_height, body);
}

}  // namespace grainwright
