// SPDX-License-Identifier: GPL-3.0-or-later
//
// The figures of a motor, each once: its key in JSON, its label in print, its dimension, and where
// it comes from. Text, JSON, report, comparison, bench and spreadsheet read this table, so that one
// quantity has one name.
#pragma once

#include <span>
#include <string_view>

#include "grainwright/firing/firing.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {

/// What a figure is a figure of.
enum class FigureOf {
  build,   ///< of the stack in its casing, before anything burns
  firing,  ///< of one firing, by the model that made it
  flight,  ///< of the ascent on the transient firing's thrust
};

/// One figure.
struct FigureRow {
  std::string_view key;    ///< in JSON, with its SI unit
  std::string_view label;  ///< in print, without unit
  Dimension dimension = Dimension::ratio;
  FigureOf of = FigureOf::firing;
  double Summary::*fired = nullptr;  ///< where it stands in a firing's summary
  double Flight::*flown = nullptr;   ///< or in a flight
};

/// Every figure, in the order in which JSON prints them.
[[nodiscard]] std::span<const FigureRow> figure_table();

/// The row of a JSON key. Throws std::out_of_range where there is none: a slip of the program.
[[nodiscard]] const FigureRow& figure_row(std::string_view key);

}  // namespace grainwright
