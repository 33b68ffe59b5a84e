// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include <numbers>

#include "jobs.hpp"
#include "program.hpp"
#include "support/checks.hpp"

using Catch::Matchers::Contains;
using program::Folder;
using program::run;
using program::Run;

TEST_CASE("cutlist gives lengths, masses and the saw plan in SI") {
  Folder folder;
  Run done = run({"cutlist", folder.file("job.toml", jobs::short_casing), "--json"});
  CHECK(done.exit == 0);
  auto list = done.json()["cut_list"];
  REQUIRE(list["segments"].size() == 1);
  auto segment = list["segments"][0];
  CHECK(segment["count"] == 3);
  CHECK(segment["propellant_length_m"].get<double>() == Approx(0.0619125));
  CHECK(segment["mandrel_m"].get<double>() == Approx(0.0127));
  CHECK(segment["inhibited"] == nlohmann::ordered_json{"outer"});
  double mass = segment["mass_kg"];
  CHECK(segment["accept_kg"][0] < mass);
  CHECK(segment["accept_kg"][1] > mass);
  CHECK(list["spacers"] == 2);
  checks::expect("batch with 8 % left in the pot, kg", checks::closed_form, 3 * mass / 0.92,
                 list["batch_kg"], checks::relative(1e-12));
  CHECK(list["stock_tubes"] == 1);
  // Twelve inches less three pieces and the two cuts between them and the one after.
  CHECK(list["left_over_m"].get<double>() > 0);
}

TEST_CASE("cutlist does not know what the job does not say") {
  Folder folder;
  auto list =
      run({"cutlist", folder.file("job.toml", jobs::whole_motor), "--json"}).json()["cut_list"];
  CHECK(list["stock_tubes"].is_null());
  CHECK(list["left_over_m"].is_null());
  CHECK(list["room_left_m"].is_null());
}

TEST_CASE("cutlist draws the tubes, checks the sum against the room, and warns") {
  Folder folder;
  Run done = run({"cutlist", folder.file("job.toml", jobs::short_casing)});
  CHECK(done.exit == 0);
  CHECK_THAT(done.out, Contains("Saw plan: 1 stock tube of 12 in"));
  CHECK_THAT(done.out, Contains("1  3 x 2.4375 in (2 7/16)"));
  CHECK_THAT(done.out, Contains("|----"));
  CHECK_THAT(done.out, Contains("2 spacers of 0.0625 in (1/16)"));
  CHECK_THAT(done.out, Contains("0.0625 in (1/16) left over"));
  CHECK_THAT(done.out, Contains("will burst"));
}
