// SPDX-License-Identifier: GPL-3.0-or-later
#include "drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "grainwright/polyline.hpp"
#include "page.hpp"

namespace grainwright::cli {
namespace {

constexpr int columns = 72;
constexpr int rows = 12;
constexpr int ticks = 4;  // divides both

/// An axis from 0 in `ticks` round steps that reaches what it has to show.
struct Axis {
  Dimension dimension;
  UnitSystem units;
  double si_step;

  Axis(const Series& series, UnitSystem system)
      : Axis(series.dimension, std::ranges::max(series.values), system) {}
  Axis(Dimension of, double most, UnitSystem system) : dimension(of), units(system) {
    double scale = in_units(1, dimension, units);
    double needed = std::max(most * scale / ticks, 1e-12);
    double decade = std::pow(10, std::floor(std::log10(needed)));
    constexpr std::array steps = {1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0};
    // The last step covers what rounding in the logarithm may leave over.
    auto step = std::ranges::find_if(steps, [&](double s) { return s * decade >= needed; });
    si_step = (step == steps.end() ? 2 * steps.back() : *step) * decade / scale;
  }
  [[nodiscard]] double end() const { return ticks * si_step; }
  [[nodiscard]] std::string label(int tick) const {
    return show(tick * si_step, dimension, units, 3);
  }
};

struct Marks {
  std::vector<std::string_view> fill;  ///< from empty to full, in even steps
  std::string_view wall, tick, corner, floor, floor_tick;
};

Marks marks(bool fine) {
  if (fine) {
    return {{" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"}, "│", "┤", "└", "─", "┴"};
  }
  return {{" ", "#"}, "|", "+", "+", "-", "+"};
}

/// One line of the area, `height` lines above the floor.
std::string area_line(const std::vector<double>& heights, int height, const Marks& mark) {
  std::string line;
  auto full = static_cast<double>(mark.fill.size() - 1);
  for (double h : heights) {
    double share = std::clamp(h - height, 0.0, 1.0);
    line += mark.fill[static_cast<std::size_t>(std::lround(share * full))];
  }
  return line.substr(0, line.find_last_not_of(' ') + 1);
}

std::string floor_line(const Marks& mark) {
  std::string line(mark.corner);
  for (int i = 1; i <= columns; ++i)
    line += i % (columns / ticks) == 0 ? mark.floor_tick : mark.floor;
  return line;
}

std::string floor_labels(const Axis& axis) {
  std::string line = "0";
  for (int tick = 1; tick <= ticks; ++tick) {
    std::string label = axis.label(tick);
    // Centred under its tick.
    auto start = static_cast<std::size_t>(tick * columns / ticks) - width_of(label) / 2;
    line.resize(std::max(line.size() + 1, start), ' ');
    line += label;
  }
  return line;
}

/// The lines of a picture, highest first, between their axes.
std::string framed(const Series& x, std::string_view name, const Axis& across, const Axis& up,
                   const std::vector<std::string>& lines, const Marks& mark) {
  std::size_t margin = 2;
  for (int tick = 0; tick <= ticks; ++tick) margin = std::max(margin, 3 + width_of(up.label(tick)));
  std::string text = fmt::format("{:>{}} {} over {}\n", "", margin, name, x.name);
  for (int line = 0; line < rows; ++line) {
    bool labelled = line % (rows / ticks) == 0;
    text +=
        fmt::format("{:>{}} {}{}\n", labelled ? up.label(ticks - line * ticks / rows) : "", margin,
                    labelled ? mark.tick : mark.wall, lines[static_cast<std::size_t>(line)]);
  }
  text += fmt::format("{:>{}} {}\n", up.label(0), margin, floor_line(mark));
  return text + fmt::format("{:>{}} {}\n", "", margin, floor_labels(across));
}

}  // namespace

std::string drawn(const Series& x, const Series& y, UnitSystem units, bool fine) {
  Axis across(x, units);
  Axis up(y, units);
  Marks mark = marks(fine);
  std::vector<double> heights(columns);
  for (int i = 0; i < columns; ++i) {
    double at = (i + 0.5) / columns * across.end();
    heights[static_cast<std::size_t>(i)] = polyline_at(x.values, y.values, at) / up.end() * rows;
  }
  std::vector<std::string> lines;
  for (int line = 0; line < rows; ++line) {
    lines.push_back(area_line(heights, rows - 1 - line, mark));
  }
  return framed(x, y.name, across, up, lines, mark);
}

std::string drawn_lines(const Series& x, std::string_view name, std::span<const Series> lines,
                        UnitSystem units) {
  double most = 0;
  for (const Series& line : lines) {
    for (double value : line.values) most = std::fmax(most, value);
  }
  Axis across(x, units);
  Axis up(lines.front().dimension, most, units);
  std::vector<std::string> picture(rows, std::string(columns, ' '));
  for (const Series& line : lines) {
    for (int i = 0; i < columns; ++i) {
      const double height =
          polyline_at(x.values, line.values, (i + 0.5) / columns * across.end()) / up.end() * rows;
      if (!(height > 0)) continue;
      const auto row =
          static_cast<std::size_t>(std::clamp(rows - 1 - static_cast<int>(height), 0, rows - 1));
      char& spot = picture[row][static_cast<std::size_t>(i)];
      spot = spot == ' ' ? line.name.front() : '*';
    }
  }
  for (std::string& line : picture) line.erase(line.find_last_not_of(' ') + 1);
  return framed(x, name, across, up, picture, marks(false));
}

bool utf8_locale() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const char* value = std::getenv(name);
    if (value == nullptr || *value == '\0') continue;
    std::string locale(value);
    std::ranges::transform(locale, locale.begin(), [](unsigned char c) { return std::tolower(c); });
    return locale.find("utf-8") != std::string::npos || locale.find("utf8") != std::string::npos;
  }
  return false;
}

}  // namespace grainwright::cli
