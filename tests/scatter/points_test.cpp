// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/points.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

double plain(const gw::SobolPoints& points, std::size_t point, std::size_t dimension) {
  return points.raw(point, dimension) / 4294967296.0;
}

}  // namespace

TEST_CASE("Sobol's first points") {
  const gw::SobolPoints points(3, 4);
  const double first[][3] = {{0, 0, 0},
                             {0.5, 0.5, 0.5},
                             {0.75, 0.25, 0.25},
                             {0.25, 0.75, 0.75},
                             {0.375, 0.375, 0.625},
                             {0.875, 0.875, 0.125},
                             {0.625, 0.125, 0.875},
                             {0.125, 0.625, 0.375},
                             {0.1875, 0.3125, 0.9375},
                             {0.6875, 0.8125, 0.4375},
                             {0.9375, 0.0625, 0.6875},
                             {0.4375, 0.5625, 0.1875},
                             {0.3125, 0.1875, 0.3125}};
  for (std::size_t i = 0; i < std::size(first); ++i) {
    for (std::size_t d = 0; d < 3; ++d) {
      checks::expect("Sobol point " + std::to_string(i) + ", coordinate " + std::to_string(d + 1),
                     "Joe & Kuo, new-joe-kuo-6 (2008)", first[i][d], plain(points, i, d),
                     checks::absolute(0));
    }
  }
}

TEST_CASE("Sobol's point 1000 in eight dimensions") {
  const gw::SobolPoints points(8, 10);
  const double expected[] = {0.21972656, 0.09667969, 0.51855469, 0.67675781,
                             0.28027344, 0.90722656, 0.04589844, 0.89941406};
  for (std::size_t d = 0; d < 8; ++d) {
    checks::expect("Sobol point 1000, coordinate " + std::to_string(d + 1),
                   "Joe & Kuo, new-joe-kuo-6 (2008)", expected[d], plain(points, 1000, d),
                   checks::absolute(0.5e-8));
  }
}

TEST_CASE("A scramble keeps one point in each cell of every dimension, and of pairs of them") {
  constexpr unsigned log2 = 8;
  const gw::SobolPoints points(40, log2);
  const gw::Scramble scramble(40, 7, 3);
  for (std::size_t d = 0; d < 40; ++d) {
    std::set<int> cells;
    for (std::size_t i = 0; i < points.count(); ++i) {
      cells.insert(static_cast<int>(scramble.coordinate(points, i, d) * 256));
    }
    INFO("dimension " << d);
    CHECK(cells.size() == 256);
  }
  std::set<std::pair<int, int>> squares;
  for (std::size_t i = 0; i < points.count(); ++i) {
    squares.insert({static_cast<int>(scramble.coordinate(points, i, 0) * 16),
                    static_cast<int>(scramble.coordinate(points, i, 1) * 16)});
  }
  CHECK(squares.size() == 256);
}

TEST_CASE("No coordinate is 0 or 1, and the origin is moved") {
  const gw::SobolPoints points(5, 12);
  const gw::Scramble scramble(5, 0, 0);
  for (std::size_t i = 0; i < points.count(); ++i) {
    for (std::size_t d = 0; d < 5; ++d) {
      const double u = scramble.coordinate(points, i, d);
      REQUIRE(u > 0);
      REQUIRE(u < 1);
    }
  }
  CHECK(scramble.coordinate(points, 0, 0) > 1e-6);
}

TEST_CASE("The same seed scrambles alike, another seed or replicate otherwise") {
  const gw::SobolPoints points(2, 4);
  const gw::Scramble one(2, 1, 0);
  const gw::Scramble again(2, 1, 0);
  const gw::Scramble other_seed(2, 2, 0);
  const gw::Scramble other_replicate(2, 1, 1);
  CHECK(one.coordinate(points, 5, 1) == again.coordinate(points, 5, 1));
  CHECK(one.coordinate(points, 5, 1) != other_seed.coordinate(points, 5, 1));
  CHECK(one.coordinate(points, 5, 1) != other_replicate.coordinate(points, 5, 1));
}

TEST_CASE("Scrambles are unbiased: over many of them a point lands everywhere alike") {
  const gw::SobolPoints points(1, 1);
  constexpr int scrambles = 4000;
  double mean = 0;
  double square = 0;
  for (std::uint64_t i = 0; i < scrambles; ++i) {
    const double u = gw::Scramble(1, 11, i).coordinate(points, 1, 0);
    mean += u / scrambles;
    square += u * u / scrambles;
  }
  // Three standard errors of the mean and of the mean square of a uniform number.
  CHECK(std::abs(mean - 0.5) < 3 * 0.28868 / std::sqrt(scrambles));
  CHECK(std::abs(square - 1.0 / 3) < 3 * 0.29814 / std::sqrt(scrambles));
}
