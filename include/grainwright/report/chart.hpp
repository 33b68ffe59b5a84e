// SPDX-License-Identifier: GPL-3.0-or-later
//
// Curves over time for a page: a still picture in SVG, which paper and readers without JavaScript
// get, and the same numbers as data, from which the page draws one that answers the pointer.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "grainwright/quantity.hpp"

namespace grainwright {

/// How a line is drawn. Each differs by its dashes too, so that it can be told without colour.
enum class Pen : std::uint8_t { solid, dashed, dotted, dash_dot };

/// One curve of a chart.
struct ChartLine {
  std::string name;
  std::vector<double> values;  ///< SI, one for each moment; NaN where there is none
  Pen pen = Pen::solid;
};

/// A line across: a ceiling or a floor.
struct Level {
  std::string name;
  double value = 0;  ///< SI
};

/// Between two curves: how far a value may lie from the predicted one.
struct Band {
  std::string name;
  std::vector<double> low;  ///< SI, one for each moment
  std::vector<double> high;
};

/// Curves over one axis.
struct Chart {
  std::string id;     ///< lower-case letters and hyphens
  std::string title;  ///< "Thrust"
  Dimension dimension = Dimension::ratio;
  std::vector<double> time;  ///< s, rising
  std::vector<ChartLine> traces;
  std::vector<Level> levels = {};
  std::optional<Band> band = {};
};

/// Round steps from 0 to the first one at or past `most`, at most seven of them.
struct Steps {
  double step = 1;
  double end = 1;
};
[[nodiscard]] Steps round_steps(double most);

/// The curve y(x), x rising, at other places by straight lines; NaN outside x.
[[nodiscard]] std::vector<double> resampled(std::span<const double> x, std::span<const double> y,
                                            std::span<const double> at);

[[nodiscard]] std::string chart_svg(const Chart& chart, UnitSystem units);

/// The chart as a JSON object, in printed units, five digits: numbers alone, no text of anybody's.
[[nodiscard]] std::string chart_json(const Chart& chart, UnitSystem units);

}  // namespace grainwright
