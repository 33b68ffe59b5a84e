// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/assessment/limits.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

using namespace grainwright;

TEST_CASE("each figure has one key, one label and one place to come from") {
  std::set<std::string_view> keys;
  std::set<std::string_view> labels;
  for (const FigureRow& row : figure_table()) {
    CAPTURE(row.key);
    CHECK(keys.insert(row.key).second);
    CHECK(labels.insert(row.label).second);
    CHECK((row.fired != nullptr) == (row.of == FigureOf::firing));
    CHECK((row.flown != nullptr) == (row.of == FigureOf::flight));
  }
  CHECK_THROWS_AS(figure_row("thrust"), std::out_of_range);
}

TEST_CASE("each limit names a figure that there is") {
  for (const LimitRow& row : limit_table()) {
    CAPTURE(row.key);
    CHECK_NOTHROW(row.row());
    CHECK(row.value != nullptr);
  }
}

TEST_CASE("a key leads to its own row, not to one that begins alike") {
  REQUIRE(limit_row("limits.pressure_floor") != nullptr);
  CHECK(limit_row("limits.pressure_floor")->key == "limits.pressure_floor");
  CHECK(limit_row("limits.pressure")->key == "limits.pressure");
  CHECK(limit_row("wish.burn_time.most")->key == "wish.burn_time");
  CHECK(limit_row("shop.throats") == nullptr);
}

TEST_CASE("what is asked is what is set, side by side") {
  Limits limits;
  limits.pressure = 4e6;
  limits.port_to_throat = 2;
  Bounds bounds;
  bounds.burn_time = {0.5, 1.5};
  const std::vector<Limit> asked = limits_asked({limits, bounds});
  REQUIRE(asked.size() == 4);
  CHECK(asked[0].row->key == "limits.pressure");
  CHECK(asked[0].ceiling);
  CHECK_FALSE(asked[1].ceiling);
  CHECK(asked[2].value == 0.5);
  CHECK(asked[3].value == 1.5);
}

TEST_CASE("a figure that is no number keeps no limit") {
  const Limit limit{limit_row("limits.pressure"), true, 4e6};
  CHECK(Check{limit, std::nan("")}.broken());
  CHECK(Check{limit, 4.1e6}.broken());
  CHECK_FALSE(Check{limit, 4e6}.broken());
  CHECK(Check{limit, 3.9e6}.near());
  CHECK_FALSE(Check{limit, 3e6}.near());
}
