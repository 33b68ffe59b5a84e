// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/casting_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "assets.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/report/html.hpp"
#include "ink.hpp"

namespace grainwright {
namespace {

constexpr std::string_view box =
    "<span class=\"box\" role=\"img\" aria-label=\"to tick\">&nbsp;</span>";
constexpr double millimetre = 1e-3;
// What A4 and Letter both print beside the margins in sheet.css, mm across: a page that holds
// anything wider is shrunk by the browser, and its templates with it.
constexpr double printable_width = 186;

std::string grams(double kilograms) {
  return fmt::format("{:.{}f} g", 1000 * kilograms, kilograms < 0.1 ? 1 : 0);
}

std::string mass_words(double kilograms, UnitSystem units) {
  if (units == UnitSystem::si) return grams(kilograms);
  return fmt::format("{} ({})", grams(kilograms), show(kilograms, Dimension::mass, units));
}

/// Both ways of saying a length, the job's own first.
std::string length_html(double metres, UnitSystem units) {
  std::string first = show_fraction(metres);
  std::string second = show_length(metres, UnitSystem::si);
  if (units == UnitSystem::si) std::swap(first, second);
  return fmt::format("<b class=\"large\">{}</b> <span class=\"other\">{}</span>", escaped(first),
                     escaped(second));
}

std::string inhibited_words(const Segment& segment) {
  std::string text;
  for (Face face : all_faces) {
    if (!segment.inhibited.contains(face)) continue;
    text += (text.empty() ? "" : ", ") + std::string(name_of(face));
  }
  return text.empty() ? "none" : text;
}

std::string core_html(const CutPiece& piece, const std::string& words, UnitSystem units) {
  if (piece.mandrel_length == 0) return escaped(words);
  return fmt::format("{}<br><span class=\"other\">rod {} long</span>", escaped(words),
                     escaped(show_length(piece.mandrel_length, units)));
}

std::string piece_row(int number, const CutPiece& piece, const std::string& core,
                      UnitSystem units) {
  const std::string tube = piece.tube_length == piece.propellant_length
                               ? ""
                               : "<br><span class=\"other\">tube " +
                                     escaped(show_length(piece.tube_length, units)) + "</span>";
  return fmt::format(
      "<tr><th scope=\"row\">{}</th><td class=\"boxes\">{} cut<br>{} cast<br>{} weighed</td>"
      "<td>{}{}</td><td>{}</td><td>{}</td><td><span class=\"range\">{} to {}</span><br><span "
      "class=\"other\">target "
      "{}</span></td>"
      "<td class=\"blank\"></td><td class=\"blank\"></td><td class=\"blank\"></td>"
      "<td class=\"blank\"></td><td class=\"blank\"></td></tr>\n",
      number, box, box, box, length_html(piece.propellant_length, units), tube,
      core_html(piece, core, units), escaped(inhibited_words(piece.segment)), grams(piece.lightest),
      grams(piece.heaviest), mass_words(piece.mass, units));
}

std::string pieces_html(const CastingSheet& sheet) {
  std::string rows;
  int number = 0;
  for (std::size_t kind = 0; kind < sheet.list.pieces.size(); ++kind) {
    const CutPiece& piece = sheet.list.pieces[kind];
    for (int i = 0; i < piece.count; ++i) {
      rows += piece_row(++number, piece, sheet.cores[kind], sheet.units);
    }
  }
  const double tolerance = sheet.options.length_tolerance;
  const std::string within =
      tolerance > 0 ? ", each within " + show_length(tolerance, sheet.units) : "";
  // Shares of the paper's width, whatever the cells hold.
  std::string columns = "<colgroup>";
  for (std::string_view share : {"5", "11", "17", "12", "8", "12", "7", "7", "7", "7", "7"}) {
    columns += fmt::format("<col style=\"width:{}%\">", share);
  }
  columns += "</colgroup>\n";
  return fmt::format(
      "<h2>Pieces, head end first</h2>\n<div class=\"wide\" role=\"region\" tabindex=\"0\" "
      "aria-label=\"Pieces\">\n<table class=\"pieces\"><caption>Length{}; weight without the "
      "tube</caption>\n{}<thead><tr><th scope=\"col\">no.</th><th scope=\"col\">done</th>"
      "<th scope=\"col\">length</th><th scope=\"col\">core</th><th scope=\"col\">inhibit</th>"
      "<th scope=\"col\">accept</th><th scope=\"col\">length is</th><th scope=\"col\">mass is</th>"
      "<th scope=\"col\">core is</th><th scope=\"col\">date</th><th scope=\"col\">batch</th></tr>"
      "</thead>\n<tbody>\n{}</tbody></table>\n</div>\n",
      escaped(within), columns, rows);
}

std::string stack_html(const CastingSheet& sheet) {
  const CutList& list = sheet.list;
  std::string lines;
  if (list.spacers > 0) {
    lines += fmt::format("<li>{} {} of {} between the pieces</li>\n", box,
                         list.spacers == 1 ? "1 spacer" : fmt::format("{} spacers", list.spacers),
                         escaped(show_length(list.spacer, sheet.units)));
  }
  lines +=
      fmt::format("<li>{} stack of {}", box, escaped(show_length(list.stack_length, sheet.units)));
  if (list.grain_room > 0) {
    lines += fmt::format(" in {} of room, {} to spare",
                         escaped(show_length(list.grain_room, sheet.units)),
                         escaped(show_length(std::max(0.0, list.room_left), sheet.units)));
  }
  lines += fmt::format("</li>\n<li>{} batch to weigh out: {}", box,
                       escaped(mass_words(list.batch, sheet.units)));
  for (const Portion& portion : list.portions) {
    lines += fmt::format("<br>{} of {}", escaped(mass_words(portion.mass, sheet.units)),
                         set_apart(portion.name));
  }
  return "<h2>Stack and batch</h2>\n<ul class=\"ticks\">\n" + lines + "</li>\n</ul>\n";
}

// ----------------------------------------------------------------------------------- the saw plan

/// Length and number of every piece, head end first.
struct Cut {
  double length = 0;
  int number = 0;
};

std::vector<Cut> cuts_of(const CutList& list) {
  std::vector<Cut> cuts;
  for (const CutPiece& piece : list.pieces) {
    for (int i = 0; i < piece.count; ++i) {
      cuts.push_back({piece.tube_length, static_cast<int>(cuts.size()) + 1});
    }
  }
  return cuts;
}

std::string stock_svg(const std::vector<Cut>& cuts, double stock, double kerf) {
  constexpr double width = 960;
  const double unit = (width - 2) / stock;
  std::string svg = fmt::format(
      "<rect class=\"stock\" x=\"1\" y=\"1\" width=\"{:.1f}\" height=\"40\"/>\n", stock * unit);
  double at = 0;
  for (const Cut& cut : cuts) {
    const double middle = 1 + (at + cut.length / 2) * unit;
    svg += fmt::format(
        "<rect class=\"piece\" x=\"{:.1f}\" y=\"1\" width=\"{:.1f}\" height=\"40\"/>\n"
        "<text x=\"{:.1f}\" y=\"27\" text-anchor=\"middle\">{}</text>\n",
        1 + at * unit, cut.length * unit, middle, cut.number);
    at += cut.length + kerf;
  }
  return svg;
}

std::string saw_html(const CastingSheet& sheet) {
  if (!sheet.list.saw_plan) return "";
  const SawPlan& plan = *sheet.list.saw_plan;
  const std::vector<Cut> all = cuts_of(sheet.list);
  std::string html = fmt::format(
      "<h2>Saw plan</h2>\n<p>{} of casting tube, {} each, kerf {}{}. Left end first.</p>\n",
      plan.tubes.size() == 1 ? "1 stock length"
                             : fmt::format("{} stock lengths", plan.tubes.size()),
      escaped(show_length(sheet.options.tube_stock, sheet.units)),
      escaped(show_length(sheet.options.kerf, sheet.units)),
      plan.proven ? "; no plan needs fewer" : "");
  for (const std::vector<std::size_t>& tube : plan.tubes) {
    std::vector<Cut> cuts;
    std::string words;
    for (std::size_t index : tube) {
      cuts.push_back(all[index]);
      words += fmt::format("{}{}: {}", words.empty() ? "" : ", ", all[index].number,
                           show_length(all[index].length, sheet.units));
    }
    html += fmt::format(
        "<figure><svg viewBox=\"0 0 960 42\" class=\"saw\" role=\"img\" "
        "aria-label=\"Stock length, cut as listed below\">\n{}</svg>\n"
        "<figcaption>{}</figcaption></figure>\n",
        stock_svg(cuts, sheet.options.tube_stock, sheet.options.kerf), escaped(words));
  }
  return html + fmt::format("<p>{} left over in all.</p>\n",
                            escaped(show_length(plan.left_over, sheet.units)));
}

// ------------------------------------------------------------------------------- the end templates

/// 100 mm and 4 in: long enough that a shrunk print shows beside a ruler.
std::string ruler_svg() {
  std::string marks;
  for (int i = 0; i <= 20; ++i) marks += fmt::format("M{} 4v{}", 1 + 5 * i, i % 2 == 0 ? 4 : 2.5);
  for (int i = 0; i <= 16; ++i)
    marks += fmt::format("M{:.3f} 12v-{}", 1 + 6.35 * i, i % 4 == 0 ? 4 : 2.5);
  return "<svg class=\"true\" style=\"width:126mm;height:17mm\" viewBox=\"0 0 126 17\" "
         "role=\"img\" aria-label=\"A bar of 100 mm above and 4 in below, to check the printed "
         "size\">\n<path class=\"cut\" d=\"M1 4H101M1 12H102.6" +
         marks +
         "\"/>\n"
         "<text x=\"104\" y=\"6\">100 mm</text><text x=\"104\" y=\"13\">4 in</text></svg>\n";
}

/// A ring in the true size, around the middle of a square of `size` mm.
std::string ring_svg(double size, double radius) {
  return fmt::format("<circle class=\"cut\" cx=\"{0:.3f}\" cy=\"{0:.3f}\" r=\"{1:.3f}\"/>\n",
                     size / 2, radius / millimetre);
}

/// What the core opens in an end: a hole, one for each end of a taper, or its outline.
std::string hole_svg(const Segment& segment, double size) {
  if (!segment.core) return ring_svg(size, segment.core_diameter / 2);
  if (const auto* turned = std::get_if<TurnedCore>(&segment.core->shape)) {
    const double head = turned->stations.front().diameter / 2;
    const double nozzle = turned->stations.back().diameter / 2;
    return ring_svg(size, head) + (nozzle == head ? "" : ring_svg(size, nozzle));
  }
  const Ink ink({size / 2, size / 2}, 1 / millimetre);
  const Outline outline = outline_of(*segment.core).value();
  std::string data;
  for (const Region& region : outline.voids) {
    data += ink.path_of(region.outer);
    for (const Ring& hole : region.holes) data += ink.path_of(hole);
  }
  return "<path class=\"cut\" d=\"" + data + "\"/>\n";
}

std::string disc_words(const Segment& segment, const std::string& core, UnitSystem units) {
  return fmt::format("tube bore {}, core {}", escaped(show_length(segment.outer_diameter, units)),
                     escaped(core));
}

/// A disc that drops into the tube's end, with the hole for the rod; `size` is that of its square.
std::string disc_svg(const Segment& segment, const std::string& words, double size) {
  constexpr double narrowest = 44;  // mm, for the words below
  return fmt::format(
      "<figure style=\"width:{5:.3f}mm\"><svg class=\"true\" "
      "style=\"width:{0:.3f}mm;height:{0:.3f}mm\" viewBox=\"0 0 {0:.3f} {0:.3f}\" role=\"img\" "
      "aria-label=\"End template\">\n{2}{3}"
      "<path class=\"cross\" d=\"M{1:.3f} 0V{0:.3f}M0 {1:.3f}H{0:.3f}\"/>\n</svg>\n"
      "<figcaption>{4}</figcaption></figure>\n",
      size, size / 2, ring_svg(size, segment.outer_diameter / 2), hole_svg(segment, size), words,
      std::max(size, narrowest));
}

/// The disc, or where no paper takes it in true size, that it is not drawn.
std::string template_html(const Segment& segment, const std::string& core, UnitSystem units) {
  constexpr double around = 8;  // mm, for the ends of the cross
  const double size = segment.outer_diameter / millimetre + around;
  const std::string words = disc_words(segment, core, units);
  if (size <= printable_width) return disc_svg(segment, words, size);
  return fmt::format(
      "<p class=\"not-drawn\"><strong>Not drawn: {}.</strong> In true size it is wider than "
      "what A4 and Letter paper print, {}. Mark it out with a compass.</p>\n",
      words, escaped(show_length(printable_width * millimetre, units)));
}

std::string templates_html(const CastingSheet& sheet) {
  std::vector<Segment> drawn;
  std::string discs;
  for (std::size_t kind = 0; kind < sheet.list.pieces.size(); ++kind) {
    Segment shape = sheet.list.pieces[kind].segment;
    const Segment segment = shape;
    shape.length = 0;
    shape.inhibited = {};
    if (segment.solid() || std::ranges::find(drawn, shape) != drawn.end()) continue;
    drawn.push_back(shape);
    discs += template_html(segment, sheet.cores[kind], sheet.units);
  }
  if (discs.empty()) return "";
  return "<section class=\"templates\">\n<h2>End templates, true size</h2>\n"
         "<p>Print at 100 % with the default margins, and hold a ruler to the bar before use. If "
         "it "
         "is off, use none of the templates. The disc drops into the tube's end, the rod stands in "
         "its hole.</p>\n<div class=\"wide\" role=\"region\" tabindex=\"0\" "
         "aria-label=\"Templates\">\n" +
         ruler_svg() + "<div class=\"discs\">\n" + discs + "</div>\n</div>\n</section>\n";
}

std::string remarks_html(const CastingSheet& sheet) {
  std::string items;
  for (const std::string& remark : sheet.list.remarks)
    items += "<li>" + escaped(remark) + "</li>\n";
  return items.empty() ? "" : "<h2>Remarks</h2>\n<ul>\n" + items + "</ul>\n";
}

/// Whether the motor of these pieces may be fired: the hand that cuts them reads it first.
std::string banner_html(const CastingSheet& sheet) {
  std::string items;
  for (const std::string& reason : sheet.reasons) items += "<li>" + escaped(reason) + "</li>\n";
  return fmt::format(
      "<section class=\"verdict {0}\" data-answer=\"{0}\"><p>{1}</p>\n{2}</section>\n",
      name_of(sheet.answer), escaped(sheet.verdict),
      items.empty() ? "" : "<ul>\n" + items + "</ul>\n");
}

}  // namespace

std::string html_of(const CastingSheet& sheet) {
  const std::string top =
      banner_html(sheet) + "<header>\n<p class=\"kind\">Casting sheet</p>\n<h1>" +
      set_apart(sheet.title) +
      "</h1>\n<p class=\"blanks\"><span>batch</span><span>date</span><span>cast by</span></p>\n"
      "</header>\n";
  const std::string foot = "<footer><p><strong>Cautions.</strong> " + escaped(sheet.cautions) +
                           "</p>\n<p>From " + set_apart(sheet.file) + ".</p></footer>\n";
  return page_opening("Casting sheet: " + sheet.title, sheet_style, "") + top + "<main>\n" +
         pieces_html(sheet) + stack_html(sheet) + saw_html(sheet) + templates_html(sheet) +
         remarks_html(sheet) + "</main>\n" + foot + "</body>\n</html>\n";
}

}  // namespace grainwright
