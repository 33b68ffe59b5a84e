// SPDX-License-Identifier: GPL-3.0-or-later
#include "columns.hpp"

#include <fmt/format.h>

namespace grainwright::cli {

std::vector<Column> columns_of(const Curve& curve) {
  return {{"time_s", curve.time},
          {"web_m", curve.web},
          {"burning_area_m2", curve.burning_area},
          {"kn", curve.kn},
          {"pressure_Pa", curve.pressure},
          {"thrust_N", curve.thrust}};
}

std::vector<Column> columns_of(const Track& track) {
  return {{"time_s", track.time},
          {"height_m", track.height},
          {"downrange_m", track.downrange},
          {"speed_m_s", track.speed},
          {"acceleration_m_s2", track.acceleration},
          {"mach", track.mach},
          {"thrust_N", track.thrust},
          {"drag_N", track.drag},
          {"mass_kg", track.mass}};
}

std::vector<Column> columns_of(const Firing& firing) {
  std::vector<Column> columns = columns_of(firing.curve);
  if (firing.axial) {
    columns.push_back({"nozzle_pressure_Pa", firing.axial->nozzle_pressure});
    columns.push_back({"port_mach", firing.axial->port_mach});
    columns.push_back({"mass_flux_kg_m2s", firing.axial->mass_flux});
  }
  return columns;
}

std::string csv_of(const std::vector<Column>& columns) {
  std::string text;
  for (const Column& column : columns) text += (text.empty() ? "" : ",") + column.name;
  text += '\n';
  for (std::size_t row = 0; row < columns.front().values.size(); ++row) {
    for (std::size_t i = 0; i < columns.size(); ++i) {
      fmt::format_to(std::back_inserter(text), "{}{}", i == 0 ? "" : ",", columns[i].values[row]);
    }
    text += '\n';
  }
  return text;
}

}  // namespace grainwright::cli
