// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "assets.hpp"
#include "grainwright/report/html.hpp"

namespace grainwright {
namespace {

constexpr std::size_t frame_count = 61;      // of the slider
constexpr std::size_t still_count = 5;       // of the row
constexpr std::size_t contour_count = 4;     // inside the drawing
constexpr std::size_t table_row_count = 16;  // of the curves as numbers

std::string element(std::string_view name, const std::string& html, std::string_view more = "") {
  return fmt::format("<{0}{2}>{1}</{0}>\n", name, html, more);
}

// ------------------------------------------------------------------------------------------ blocks

std::string row_html(std::string_view cell, const std::vector<std::string>& cells,
                     const std::string& align) {
  std::string html;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool heads_row = cell == "td" && i == 0;
    const std::string_view scope = cell == "th" ? " scope=\"col\""
                                   : heads_row  ? " scope=\"row\""
                                                : "";
    html += fmt::format("<{0}{1}{2}>{3}</{0}>", heads_row ? "th" : cell, scope,
                        align[i] == 'l' ? "" : " class=\"n\"",
                        cells[i].empty() ? "" : set_apart(cells[i]));
  }
  return element("tr", html);
}

std::string html_of(const DataTable& table) {
  std::string html = table.caption.empty() ? "" : element("caption", escaped(table.caption));
  if (!table.head.empty()) html += element("thead", row_html("th", table.head, table.align));
  std::string body;
  for (const auto& row : table.rows) body += row_html("td", row, table.align);
  const std::string name = table.caption.empty() ? "Table" : table.caption;
  return fmt::format(
      "<div class=\"wide\" role=\"region\" aria-label=\"{}\" tabindex=\"0\">\n{}</div>\n",
      escaped(name), element("table", html + element("tbody", body)));
}

std::string html_of(const Paragraph& paragraph) {
  return element("p", escaped(paragraph.text));
}

std::string html_of(const Bullets& bullets) {
  std::string items;
  for (const std::string& item : bullets.items) items += element("li", escaped(item));
  return element("ul", items);
}

/// Which line is which.
std::string key_html(const Chart& chart) {
  const auto swatch = [](const std::string& shape) {
    return "<svg viewBox=\"0 0 34 10\" class=\"swatch\" aria-hidden=\"true\">" + shape + "</svg>";
  };
  std::string items;
  for (const ChartLine& trace : chart.traces) {
    const std::string line =
        fmt::format("<path class=\"trace pen-{}\" d=\"M1 5H33\"/>", static_cast<int>(trace.pen));
    items += element("li", swatch(line) + escaped(trace.name));
  }
  if (chart.band) {
    items += element(
        "li", swatch("<path class=\"band\" d=\"M1 0H33V10H1Z\"/>") + escaped(chart.band->name));
  }
  return element("ul", items, " class=\"key\"");
}

DataTable numbers_of(const Chart& chart, UnitSystem units) {
  DataTable table{.caption = chart.title + " in numbers", .align = "r", .head = {"time, s"}};
  for (const ChartLine& trace : chart.traces) {
    const std::string_view unit = unit_of(chart.dimension, units);
    table.head.push_back(unit.empty() ? trace.name : fmt::format("{}, {}", trace.name, unit));
    table.align += 'r';
  }
  std::vector<double> moments;
  for (std::size_t i = 0; i < table_row_count; ++i) {
    moments.push_back(chart.time.back() * static_cast<double>(i) / (table_row_count - 1));
  }
  for (double moment : moments) {
    table.rows.push_back({fmt::format("{:.3f}", moment)});
  }
  for (const ChartLine& trace : chart.traces) {
    const auto values = resampled(chart.time, trace.values, moments);
    for (std::size_t i = 0; i < values.size(); ++i) {
      const double value = in_units(values[i], chart.dimension, units);
      table.rows[i].push_back(values[i] == values[i] ? show(value, Dimension::ratio, units, 4)
                                                     : "");
    }
  }
  return table;
}

std::string html_of(const Chart& chart, UnitSystem units) {
  const std::string_view unit = unit_of(chart.dimension, units);
  const std::string title =
      escaped(chart.title) +
      (unit.empty() ? "" : fmt::format("<span class=\"unit\">, {}</span>", unit));
  return fmt::format(
      "<figure class=\"chart\" data-chart=\"{}\" data-unit=\"{}\">\n<figcaption><span>{}</span>"
      "<span class=\"reading\" aria-hidden=\"true\"></span></figcaption>\n"
      "<div class=\"plot\" aria-hidden=\"true\"></div>\n{}{}"
      "<details class=\"numbers\"><summary>These curves in "
      "numbers</summary>\n{}</details>\n</figure>\n",
      chart.id, unit, title, chart_svg(chart, units), key_html(chart),
      html_of(numbers_of(chart, units)));
}

std::string html_of(const Drawing& drawing) {
  return element("figure", element("figcaption", escaped(drawing.name)) +
                               motor_still(drawing.motor, 0) +
                               element("p", escaped(motor_words(drawing.motor))));
}

std::string html_of(const Heading& heading) {
  return element("h3", escaped(heading.text));
}

std::string html_of(const Block& block, UnitSystem units) {
  if (const auto* heading = std::get_if<Heading>(&block)) return html_of(*heading);
  if (const auto* drawing = std::get_if<Drawing>(&block)) return html_of(*drawing);
  if (const auto* chart = std::get_if<Chart>(&block)) return html_of(*chart, units);
  if (const auto* table = std::get_if<DataTable>(&block)) return html_of(*table);
  if (const auto* bullets = std::get_if<Bullets>(&block)) return html_of(*bullets);
  return html_of(std::get<Paragraph>(block));
}

std::string html_of(const Chapter& chapter, UnitSystem units) {
  std::string html = element("h2", escaped(chapter.heading), fmt::format(" id=\"{}\"", chapter.id));
  for (const Block& block : chapter.blocks) html += html_of(block, units);
  return fmt::format("<section aria-labelledby=\"{}\">\n{}</section>\n", chapter.id, html);
}

// ------------------------------------------------------------------------------------ the burning

/// Web and share left at an even moment of the burn.
struct Moment {
  double time = 0;
  double web = 0;
  double left = 0;
};

std::vector<Moment> moments_of(const Burn& burn, std::size_t count, double until) {
  std::vector<double> times;
  for (std::size_t i = 0; i < count; ++i) {
    // Not a hair past the end, where there is no curve.
    times.push_back(std::lerp(0.0, until, static_cast<double>(i) / static_cast<double>(count - 1)));
  }
  const auto webs = resampled(burn.time, burn.web, times);
  const auto left = resampled(burn.time, burn.left, times);
  std::vector<Moment> moments;
  for (std::size_t i = 0; i < count; ++i) moments.push_back({times[i], webs[i], left[i]});
  return moments;
}

/// When the last propellant has gone.
double burnout_of(const Burn& burn) {
  const auto last = std::ranges::find_if(burn.left, [](double share) { return share <= 0; });
  return last == burn.left.end() ? burn.time.back()
                                 : burn.time[static_cast<std::size_t>(last - burn.left.begin())];
}

std::vector<double> contours_of(const Burn& burn) {
  std::vector<double> webs;
  const auto moments = moments_of(burn, contour_count + 2, burnout_of(burn));
  for (std::size_t i = 1; i <= contour_count; ++i) webs.push_back(moments[i].web);
  return webs;
}

std::string stills_html(const Report& report) {
  std::string items;
  // The last still shows what is left shortly before the end.
  for (const Moment& moment :
       moments_of(*report.burn, still_count, 0.95 * burnout_of(*report.burn))) {
    items += element(
        "li", motor_still(*report.motor, moment.web) +
                  element("span",
                          escaped(fmt::format("{}, web {}, {:.0f} % left",
                                              show(moment.time, Dimension::time, report.units, 3),
                                              show(moment.web, Dimension::length, report.units, 3),
                                              100 * moment.left))));
  }
  return element("h2", "How it burns", " id=\"stills\"") +
         element("ol", items, " class=\"stills\"");
}

std::string frames_json(const Report& report) {
  const std::vector<Moment> moments =
      moments_of(*report.burn, frame_count, report.burn->time.back());
  std::vector<double> webs;
  for (const Moment& moment : moments) webs.push_back(moment.web);
  const std::vector<SectionPaths> sections = grain_sections(*report.motor, webs);
  std::string json;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    fmt::format_to(std::back_inserter(json),
                   "{}{{\"time\":{:.5g},\"web\":{:.5g},\"left\":{:.4g},\"propellant\":\"{}\","
                   "\"front\":\"{}\"}}",
                   json.empty() ? "" : ",", moments[i].time,
                   in_units(moments[i].web, Dimension::length, report.units), moments[i].left,
                   sections[i].propellant, sections[i].front);
  }
  return fmt::format("[{}]", json);
}

std::string drawing_html(const Report& report) {
  if (!report.motor) return "";
  const std::vector<double> contours =
      report.burn ? contours_of(*report.burn) : std::vector<double>{};
  const auto swatch = [](std::string_view name, std::string_view words) {
    return element(
        "li",
        fmt::format(
            "<svg viewBox=\"0 0 34 12\" class=\"swatch motor\" aria-hidden=\"true\">"
            "<path class=\"{}\" d=\"M1 {}\"/></svg>{}",
            name,
            name == "front" || name == "inhibited" || name == "contours" ? "6H33" : "1H33V11H1Z",
            words));
  };
  std::string key = swatch("propellant", "propellant") + swatch("front", "bare face, burns") +
                    swatch("inhibited", "inhibited face");
  if (!contours.empty()) key += swatch("contours", "the front at each fifth of the burn");
  if (report.motor->casing) key += swatch("pipe", "pipe") + swatch("tube", "casting tube");
  key += swatch("closure", "closure, nozzle");
  const bool protection = report.motor->shell && report.motor->shell->head &&
                          !report.motor->shell->head->protection.empty();
  if (protection) key += swatch("protection", "protection");
  if (!report.motor->shell || !report.motor->shell->head)
    key += swatch("unsaid", "not said by the job");
  const std::string slider =
      !report.burn
          ? ""
          : fmt::format(
                "<div class=\"moment\" hidden><label for=\"moment\">Moment of the burn</label>"
                "<input type=\"range\" id=\"moment\" min=\"0\" max=\"{}\" value=\"0\" step=\"1\" "
                "data-web-unit=\"{}\"><output for=\"moment\" id=\"moment-words\"></output></div>\n",
                frame_count - 1, unit_of(Dimension::length, report.units));
  return "<figure class=\"drawing\">\n<div class=\"wide\" role=\"region\" tabindex=\"0\" "
         "aria-label=\"Drawing of the motor\">\n" +
         motor_svg(*report.motor, contours) + "</div>\n" + slider +
         element("ul", key, " class=\"key\"") + "</figure>\n";
}

// ------------------------------------------------------------------------------------- the page

std::string head_html(const Report& report) {
  std::string figures;
  for (const auto& [name, value] : report.figures) {
    figures += element("li", element("span", escaped(name)) + element("b", escaped(value)));
  }
  return element("header",
                 element("p", escaped(report.kind), " class=\"kind\"") +
                     element("h1", set_apart(report.title)) +
                     element("p", escaped(report.verdict),
                             fmt::format(" class=\"verdict {0}\" data-answer=\"{0}\"",
                                         name_of(report.answer))) +
                     (figures.empty() ? "" : element("ul", figures, " class=\"figures\"")));
}

std::string data_html(const Report& report) {
  std::string charts =
      fmt::format("\"{}\":{}", report.first.id, chart_json(report.first, report.units));
  for (const Chapter& chapter : report.chapters) {
    for (const Block& block : chapter.blocks) {
      const auto* chart = std::get_if<Chart>(&block);
      if (chart) charts += fmt::format(",\"{}\":{}", chart->id, chart_json(*chart, report.units));
    }
  }
  const bool moves = report.motor && report.burn;
  return fmt::format(
      "<script type=\"application/json\" "
      "id=\"data\">{{\"charts\":{{{}}},\"frames\":{}}}</script>\n",
      charts, moves ? frames_json(report) : "[]");
}

std::string job_html(const Report& report) {
  if (report.job_text.empty()) return "";
  return "<section aria-labelledby=\"job\">\n" + element("h2", "The job file", " id=\"job\"") +
         "<details>" + element("summary", set_apart(report.file)) +
         "<pre dir=\"ltr\" tabindex=\"0\">" + escaped(report.job_text) +
         "</pre></details>\n</section>\n";
}

}  // namespace

std::string html_of(const Report& report) {
  std::string html = page_opening(report.title, page_style, page_script_digest);
  html +=
      head_html(report) + "<main>\n" + drawing_html(report) + html_of(report.first, report.units);
  if (report.motor && report.burn) {
    html += "<section class=\"still-row\" aria-labelledby=\"stills\">\n" + stills_html(report) +
            "</section>\n";
  }
  for (const Chapter& chapter : report.chapters) html += html_of(chapter, report.units);
  html += job_html(report) + "</main>\n" + data_html(report);
  return html + "<script>" + std::string(page_script) + "</script>\n</body>\n</html>\n";
}

}  // namespace grainwright
