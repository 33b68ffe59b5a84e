// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/atmosphere.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "grainwright/error.hpp"
#include "grainwright/motor/gas.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using checks::absolute;
using checks::expect;
using checks::relative;

TEST_CASE("the air is that of the standard's table") {
  const std::string source =
      "U.S. Standard Atmosphere 1976, Table I, and as printed in Kutz, Mechanical Engineers' "
      "Handbook, vol. 4, Table 6";
  struct Row {
    double altitude, temperature, bar, density, sound;
  };
  for (const Row& row : {Row{0, 288.15, 1.0133, 1.2250, 340.3},
                         {1000, 281.65, .8988, 1.1117, 336.4},
                         {2000, 275.15, .7950, 1.0066, 332.5},
                         {3000, 268.66, .7012, .9093, 328.6},
                         {5000, 255.68, .5405, .7364, 320.5},
                         {8000, 236.22, .3565, .5258, 308.1},
                         {10000, 223.25, .2650, .4135, 299.5},
                         {11000, 216.77, .2270, .3648, 295.2},
                         {12000, 216.65, .1940, .3119, 295.1}}) {
    const Air air = air_at(row.altitude);
    const std::string at = " at " + std::to_string(static_cast<int>(row.altitude)) + " m";
    expect("temperature, K" + at, source, row.temperature, air.temperature, absolute(0.0051));
    expect("pressure, bar" + at, source, row.bar, air.pressure / 1e5, absolute(0.000051));
    expect("density, kg/m3" + at, source, row.density, air.density, absolute(0.000051));
    expect("speed of sound, m/s" + at, source, row.sound, air.speed_of_sound, absolute(0.051));
  }
}

TEST_CASE("the air follows from the standard's defining constants") {
  const std::string source = "U.S. Standard Atmosphere 1976, its equations";
  struct Row {
    double altitude, temperature, pressure, density;
  };
  for (const Row& row : {Row{1000, 281.651, 89876.3, 1.11166},
                         {5000, 255.676, 54048.3, .736428},
                         {11000, 216.774, 22700.0, .364802},
                         {15000, 216.650, 12111.8, .194755},
                         {20000, 216.650, 5529.31, .088910}}) {
    const Air air = air_at(row.altitude);
    const std::string at = " at " + std::to_string(static_cast<int>(row.altitude)) + " m";
    expect("temperature, K" + at, source, row.temperature, air.temperature, absolute(0.00051));
    expect("pressure, Pa" + at, source, row.pressure, air.pressure, relative(4e-6));
    expect("density, kg/m3" + at, source, row.density, air.density, relative(6e-6));
  }
}

TEST_CASE("pressure balances the weight of the air, through every joint of the layers") {
  constexpr double radius = 6356766;
  for (double altitude = lowest_altitude + 1; altitude < highest_altitude; altitude += 613) {
    const double step = 0.5;
    const double fall = (air_at(altitude - step).pressure - air_at(altitude + step).pressure);
    const double gravity = standard_gravity * std::pow(radius / (radius + altitude), 2);
    CHECK(fall / (2 * step) == Approx(air_at(altitude).density * gravity).epsilon(1e-6));
  }
}

TEST_CASE("an altitude out of range is refused") {
  CHECK_THROWS_AS(air_at(lowest_altitude - 1), InputError);
  CHECK_THROWS_AS(air_at(highest_altitude + 1), InputError);
  CHECK_THROWS_AS(air_at(NAN), InputError);
}

TEST_CASE("the air over a place on a standard day is the standard's, at any height") {
  for (double place : {-500.0, 0.0, 1500.0}) {
    const LocalAir air(place);
    for (double altitude : {0.0, 1500.0, 12000.0, 31000.0, 79000.0}) {
      CHECK(air(altitude).pressure == Approx(air_at(altitude).pressure).epsilon(1e-13));
      CHECK(air(altitude).density == Approx(air_at(altitude).density).epsilon(1e-13));
    }
  }
}

TEST_CASE("a warm day keeps the pressure of its place, and balances the weight of its air") {
  constexpr double radius = 6356766;
  const double warm = air_at(1200).temperature + 18;
  const LocalAir air(1200, warm);
  CHECK(air(1200).temperature == Approx(warm).epsilon(1e-14));
  CHECK(air(1200).pressure == Approx(air_at(1200).pressure).epsilon(1e-13));
  CHECK(air(1200).density < air_at(1200).density);
  CHECK(air(9000).pressure > air_at(9000).pressure);
  CHECK(air(9000).temperature == Approx(air_at(9000).temperature + 18).epsilon(1e-13));
  for (double altitude = 0; altitude < highest_altitude; altitude += 613) {
    const double fall = air(altitude - 0.5).pressure - air(altitude + 0.5).pressure;
    const double gravity = standard_gravity * std::pow(radius / (radius + altitude), 2);
    CHECK(fall == Approx(air(altitude).density * gravity).epsilon(1e-6));
  }
}

TEST_CASE("above the standard's top there is no air, and a place out of range is refused") {
  const LocalAir air(0);
  CHECK(air(2 * highest_altitude).pressure == 0);
  CHECK(air(2 * highest_altitude).density == 0);
  CHECK(air(2 * highest_altitude).speed_of_sound > 0);
  CHECK_THROWS_AS(LocalAir(highest_altitude + 1), InputError);
}
