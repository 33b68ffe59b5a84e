// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/erosion.hpp"

#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "support/checks.hpp"

using namespace grainwright;
using checks::expect;
using checks::from_memory;
using checks::relative;

namespace {

const std::string source =
    from_memory("Lenoir & Robillard, 6th Symposium (International) on Combustion, 1957") +
    ", evaluated for invented constants";

const WallHeat heat{.gas_specific_heat = 2000,
                    .gas_viscosity = 8e-5,
                    .gas_prandtl = 0.5,
                    .density = 1750,
                    .solid_specific_heat = 1250,
                    .flame_temperature = 2800,
                    .surface_temperature = 1000,
                    .grain_temperature = 298};

}  // namespace

TEST_CASE("alpha follows from the properties of gas and solid") {
  expect("erosive alpha, SI", source, 1.624480e-5, erosion_alpha(heat), relative(4e-7));
}

TEST_CASE("mass flux adds to the rate") {
  const Erosion erosion{erosion_alpha(heat), 53};
  for (const auto& [flux, rate] :
       {std::pair{200., 8.034509}, {500., 8.604347}, {1000., 10.044906}}) {
    expect("eroded rate at " + std::to_string(static_cast<int>(flux)) + " kg/m2s, mm/s", source,
           rate, eroded_rate(erosion, 8e-3, 1750, flux, 0.3) * 1e3, relative(1e-7));
  }
}

TEST_CASE("the rate solves its own equation") {
  CHECK(rc::check("r = r0 + alpha G^0.8 L^-0.2 exp(-beta density r / G)", [] {
    const double base = *rc::gen::inRange(1, 300) * 1e-4;
    const double flux = *rc::gen::inRange(0, 40000) * 0.1;
    const double length = *rc::gen::inRange(1, 200) * 1e-2;
    const Erosion erosion{*rc::gen::inRange(1, 100) * 1e-6, *rc::gen::inRange(0, 200) * 1.0};
    const double rate = eroded_rate(erosion, base, 1750, flux, length);
    const double added = flux == 0 ? 0
                                   : erosion.alpha * std::pow(flux, 0.8) * std::pow(length, -0.2) *
                                         std::exp(-erosion.beta * 1750 * rate / flux);
    RC_ASSERT(rate >= base);
    RC_ASSERT(std::abs(rate - base - added) <= 1e-13 * rate);
  }));
}
