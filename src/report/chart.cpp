// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <limits>

#include "grainwright/report/html.hpp"

namespace grainwright {
namespace {

constexpr double width = 720;
constexpr double height = 270;
constexpr double left = 52;
constexpr double right = 14;
constexpr double top = 14;
constexpr double bottom = 34;
constexpr double head_room = 1.06;  // over the greatest value, for the name of a limit

double most_of(const Chart& chart) {
  double most = 0;
  const auto heed = [&](double value) {
    if (std::isfinite(value)) most = std::max(most, value);
  };
  for (const ChartLine& trace : chart.traces) std::ranges::for_each(trace.values, heed);
  for (const Level& level : chart.levels) heed(level.value);
  if (chart.band) std::ranges::for_each(chart.band->high, heed);
  return most;
}

/// Both axes in printed units, and where their values lie in the picture.
struct Axes {
  UnitSystem units;
  Dimension dimension;
  Steps across;
  Steps up;

  Axes(const Chart& chart, UnitSystem system)
      : units(system),
        dimension(chart.dimension),
        across(round_steps(chart.time.back())),
        up(round_steps(in_units(head_room * most_of(chart), chart.dimension, system))) {
    // Time ends where the curve does: the last step is not filled up.
    across.end = chart.time.back();
  }
  [[nodiscard]] double x(double seconds) const {
    return left + (width - left - right) * seconds / across.end;
  }
  [[nodiscard]] double y(double value) const {
    const double share = in_units(value, dimension, units) / up.end;
    return height - bottom - (height - top - bottom) * share;
  }
};

std::string text(double x, double y, std::string_view more, const std::string& words) {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\"{}>{}</text>\n", x, y, more, escaped(words));
}

std::string grid_svg(const Axes& axes) {
  std::string lines;
  std::string labels;
  const auto number = [](double value) { return show(value, Dimension::ratio, UnitSystem::si, 4); };
  for (int i = 0; i * axes.up.step < axes.up.end * (1 + 1e-9); ++i) {
    const double value = i * axes.up.step;
    const double y = height - bottom - (height - top - bottom) * value / axes.up.end;
    lines += fmt::format("M{} {:.1f}H{}", left, y, width - right);
    labels += text(left - 8, y + 4, " text-anchor=\"end\"", number(value));
  }
  for (int i = 0; i * axes.across.step < axes.across.end * (1 + 1e-9); ++i) {
    const double x = axes.x(i * axes.across.step);
    lines += fmt::format("M{:.1f} {}v5", x, height - bottom);
    labels +=
        text(x, height - bottom + 19, " text-anchor=\"middle\"", number(i * axes.across.step));
  }
  return "<path class=\"grid\" d=\"" + lines + "\"/>\n" + labels;
}

std::string line_data(const Axes& axes, const Chart& chart, const std::vector<double>& values) {
  std::string data;
  char command = 'M';
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (!std::isfinite(values[i])) {
      command = 'M';
      continue;
    }
    fmt::format_to(std::back_inserter(data), "{}{:.1f} {:.1f}", command, axes.x(chart.time[i]),
                   axes.y(values[i]));
    command = 'L';
  }
  return data;
}

std::string band_svg(const Axes& axes, const Chart& chart) {
  if (!chart.band) return "";
  std::string data;
  const std::size_t count = chart.time.size();
  for (std::size_t i = 0; i < 2 * count; ++i) {
    const std::size_t at = i < count ? i : 2 * count - 1 - i;
    const double value = i < count ? chart.band->low[at] : chart.band->high[at];
    fmt::format_to(std::back_inserter(data), "{}{:.1f} {:.1f}", i == 0 ? 'M' : 'L',
                   axes.x(chart.time[at]), axes.y(value));
  }
  return "<path class=\"band\" d=\"" + data + "Z\"/>\n";
}

std::string levels_svg(const Axes& axes, const Chart& chart) {
  std::string svg;
  for (const Level& level : chart.levels) {
    const double y = axes.y(level.value);
    svg += fmt::format("<path class=\"level\" d=\"M{} {:.1f}H{}\"/>\n", left, y, width - right);
    svg += text(width - right - 4, y - 5, " text-anchor=\"end\" class=\"level-name\"", level.name);
  }
  return svg;
}

std::string description(const Chart& chart) {
  std::string words = chart.title + " over time";
  for (const ChartLine& trace : chart.traces) words += ", " + trace.name;
  if (chart.band) words += ", " + chart.band->name;
  for (const Level& level : chart.levels) words += ", " + level.name;
  return words;
}

std::string number_list(const std::vector<double>& values, Dimension dimension, UnitSystem units) {
  std::string list;
  for (double value : values) {
    if (!list.empty()) list += ',';
    if (std::isfinite(value)) {
      fmt::format_to(std::back_inserter(list), "{:.5g}", in_units(value, dimension, units));
    } else {
      list += "null";
    }
  }
  return fmt::format("[{}]", list);
}

template <typename Items, typename Print>
std::string listed(const Items& items, Print print) {
  std::string list;
  for (const auto& item : items) {
    if (!list.empty()) list += ',';
    list += print(item);
  }
  return fmt::format("[{}]", list);
}

}  // namespace

Steps round_steps(double most) {
  if (!(most > 0)) return {};
  constexpr double count = 6;
  const double decade = std::pow(10, std::floor(std::log10(most / count)));
  constexpr std::array steps = {1.0, 2.0, 2.5, 5.0, 10.0, 20.0};
  const auto fits = [&](double step) { return step * decade * count >= most * (1 - 1e-9); };
  const double step = *std::ranges::find_if(steps, fits) * decade;
  return {step, step * std::ceil(most / step * (1 - 1e-9))};
}

std::vector<double> resampled(std::span<const double> x, std::span<const double> y,
                              std::span<const double> at) {
  std::vector<double> values;
  values.reserve(at.size());
  for (double place : at) {
    const auto next = std::ranges::lower_bound(x, place);
    if (next == x.end() || (next == x.begin() && *next != place)) {
      values.push_back(std::numeric_limits<double>::quiet_NaN());
      continue;
    }
    const auto i = static_cast<std::size_t>(next - x.begin());
    const bool exact = i == 0 || x[i] == x[i - 1];
    const double share = exact ? 1 : (place - x[i - 1]) / (x[i] - x[i - 1]);
    values.push_back(exact ? y[i] : std::lerp(y[i - 1], y[i], share));
  }
  return values;
}

std::string chart_svg(const Chart& chart, UnitSystem units) {
  const Axes axes(chart, units);
  std::string svg =
      fmt::format("<svg viewBox=\"0 0 {} {}\" class=\"curves\" role=\"img\" aria-label=\"{}\">\n",
                  width, height, escaped(description(chart)));
  svg += band_svg(axes, chart) + grid_svg(axes) + levels_svg(axes, chart);
  for (const ChartLine& trace : chart.traces) {
    svg += fmt::format("<path class=\"trace pen-{}\" d=\"{}\"/>\n", static_cast<int>(trace.pen),
                       line_data(axes, chart, trace.values));
  }
  return svg + text(width - right, height - 2, " text-anchor=\"end\"", "time, s") + "</svg>\n";
}

std::string chart_json(const Chart& chart, UnitSystem units) {
  const Axes axes(chart, units);
  const auto numbers = [&](const std::vector<double>& values) {
    return number_list(values, chart.dimension, units);
  };
  std::string json = fmt::format(
      "{{\"end\":{:.6g},\"top\":{:.6g},\"step\":{:.6g},\"time\":{},\"traces\":{},\"pens\":{},"
      "\"levels\":{}",
      axes.across.end, axes.up.end, axes.up.step, number_list(chart.time, Dimension::time, units),
      listed(chart.traces, [&](const ChartLine& trace) { return numbers(trace.values); }),
      listed(chart.traces,
             [](const ChartLine& trace) { return std::to_string(static_cast<int>(trace.pen)); }),
      listed(chart.levels, [&](const Level& level) {
        return fmt::format("{:.5g}", in_units(level.value, chart.dimension, units));
      }));
  if (chart.band) {
    json += fmt::format(",\"band\":[{},{}]", numbers(chart.band->low), numbers(chart.band->high));
  }
  return json + "}";
}

}  // namespace grainwright
