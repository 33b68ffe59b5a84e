// SPDX-License-Identifier: GPL-3.0-or-later
//
// A curve as named columns: the one source of what --json and --csv print of it.
#pragma once

#include <string>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/flight/flight.hpp"

namespace grainwright::cli {

struct Column {
  std::string name;  ///< with its SI unit at the end, "time_s"
  std::vector<double> values;
};

[[nodiscard]] std::vector<Column> columns_of(const Curve& curve);
[[nodiscard]] std::vector<Column> columns_of(const Track& track);
/// The same, with the ports' columns where the firing has them.
[[nodiscard]] std::vector<Column> columns_of(const Firing& firing);

/// One line of names, then one line a point; every number as short as reads back to the same
/// double.
[[nodiscard]] std::string csv_of(const std::vector<Column>& columns);

}  // namespace grainwright::cli
