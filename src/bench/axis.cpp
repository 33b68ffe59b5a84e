// SPDX-License-Identifier: GPL-3.0-or-later
#include "axis.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace grainwright::bench {

Json axis_to(double most, Dimension dimension, UnitSystem units) {
  constexpr double wanted = 5;
  const double scale = in_units(1, dimension, units);
  const double rough = std::max(most * scale / wanted, 1e-9);
  const double decade = std::pow(10, std::floor(std::log10(rough)));
  constexpr std::array rounds = {1.0, 2.0, 2.5, 5.0, 10.0};
  const auto round = std::ranges::find_if(rounds, [&](double r) { return r * decade >= rough; });
  const double step = (round == rounds.end() ? rounds.back() : *round) * decade / scale;
  const int count = static_cast<int>(std::ceil(most / step - 1e-9));
  Json ticks = Json::array();
  for (int i = 0; i <= count; ++i) {
    ticks.push_back({i * step, show(i * step, dimension, units, 3)});
  }
  return {{"end", std::max(count, 1) * step}, {"ticks", std::move(ticks)}};
}

}  // namespace grainwright::bench
