// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/atmosphere.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "grainwright/error.hpp"
#include "grainwright/motor/gas.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

// U.S. Standard Atmosphere 1976, tables 2 and 4.
constexpr double earth_radius = 6'356'766;          // m, of the geopotential
constexpr double specific_gas = 8314.32 / 28.9644;  // J/(kg K)
constexpr double gamma_air = 1.4;
constexpr double sea_level_temperature = 288.15;  // K

struct Layer {
  double base = 0;   // geopotential m
  double lapse = 0;  // K/m
};
constexpr std::array<Layer, 7> layers = {{{0, -0.0065},
                                          {11'000, 0},
                                          {20'000, 0.001},
                                          {32'000, 0.0028},
                                          {47'000, 0},
                                          {51'000, -0.0028},
                                          {71'000, -0.002}}};

struct State {
  double temperature = sea_level_temperature;
  double pressure = standard_atmosphere;
};

// Hydrostatic balance through `rise` metres of one layer.
State climbed(const State& below, double lapse, double rise) {
  const double temperature = below.temperature + lapse * rise;
  const double scale = standard_gravity / specific_gas;
  const double fall = lapse == 0 ? std::exp(-scale * rise / below.temperature)
                                 : std::pow(temperature / below.temperature, -scale / lapse);
  return {temperature, below.pressure * fall};
}

}  // namespace

Air air_at(double altitude) {
  if (!(altitude >= lowest_altitude && altitude <= highest_altitude)) {
    throw InputError("altitude", write_quantity(altitude, Dimension::length),
                     "from -2000 m to 80 km above sea level");
  }
  const double height = earth_radius * altitude / (earth_radius + altitude);
  State state;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const bool last = i + 1 == layers.size() || height <= layers[i + 1].base;
    const double top = last ? height : layers[i + 1].base;
    state = climbed(state, layers[i].lapse, top - layers[i].base);
    if (last) break;
  }
  return {state.temperature, state.pressure, state.pressure / (specific_gas * state.temperature),
          std::sqrt(gamma_air * specific_gas * state.temperature)};
}

}  // namespace grainwright
