// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/parallel.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <stdexcept>
#include <vector>

using namespace grainwright;

TEST_CASE("Every piece of work is done once, on any number of threads") {
  for (const unsigned threads : {0U, 1U, 2U, 7U}) {
    for (const std::size_t pieces : {std::size_t{0}, std::size_t{1}, std::size_t{100}}) {
      std::vector<int> done(pieces, 0);
      std::size_t told = 0;
      in_parallel(
          pieces, threads, [&](std::size_t piece) { ++done[piece]; },
          [&](std::size_t count) { told = count; });
      CAPTURE(threads, pieces);
      CHECK(done == std::vector<int>(pieces, 1));
      CHECK(told <= pieces);
      if (threads == 1) CHECK(told == pieces);
    }
  }
}

TEST_CASE("What a piece of work throws is thrown on, and the rest is left") {
  for (const unsigned threads : {1U, 2U}) {
    std::atomic<int> begun = 0;
    const auto work = [&](std::size_t piece) {
      ++begun;
      if (piece == 3) throw std::runtime_error("piece 3");
    };
    CAPTURE(threads);
    CHECK_THROWS_WITH(in_parallel(1'000'000, threads, work, [](std::size_t) {}), "piece 3");
    CHECK(begun < 1'000'000);
  }
}
