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

// The layers' state at an altitude, every temperature raised by `warmer`, over sea level's
// pressure.
State state_at(double altitude, double warmer) {
  const double height = earth_radius * altitude / (earth_radius + altitude);
  State state{sea_level_temperature + warmer, standard_atmosphere};
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const bool last = i + 1 == layers.size() || height <= layers[i + 1].base;
    const double top = last ? height : layers[i + 1].base;
    state = climbed(state, layers[i].lapse, top - layers[i].base);
    if (last) break;
  }
  return state;
}

Air air_of(const State& state) {
  return {state.temperature, state.pressure, state.pressure / (specific_gas * state.temperature),
          std::sqrt(gamma_air * specific_gas * state.temperature)};
}

}  // namespace

Air air_at(double altitude) {
  if (!(altitude >= lowest_altitude && altitude <= highest_altitude)) {
    throw InputError("altitude", write_quantity(altitude, Dimension::length),
                     "from -2000 m to 80 km above sea level");
  }
  return air_of(state_at(altitude, 0));
}

LocalAir::LocalAir(double altitude, std::optional<double> temperature) {
  const Air standard = air_at(altitude);
  if (!temperature) return;
  warmer_ = *temperature - standard.temperature;
  pressure_factor_ = standard.pressure / state_at(altitude, warmer_).pressure;
}

Air LocalAir::operator()(double altitude) const {
  State state = state_at(std::clamp(altitude, lowest_altitude, highest_altitude), warmer_);
  state.pressure *= altitude > highest_altitude ? 0 : pressure_factor_;
  return air_of(state);
}

}  // namespace grainwright
