// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/change.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "motors.hpp"

using namespace grainwright;
using namespace motors;

namespace {

const Change* change_of(const std::vector<Change>& changes, ChangeKind kind,
                        std::string_view part) {
  const auto found = std::ranges::find_if(
      changes, [&](const Change& change) { return change.kind == kind && change.part == part; });
  return found == changes.end() ? nullptr : &*found;
}

Shell weak_shell() {
  Shell weak = shell();
  weak.head->protection.clear();
  std::get<BondedJoint>(weak.head->joint).length = 6 * mm;
  std::get<PinnedJoint>(weak.nozzle->joint).count = 1;
  return weak;
}

}  // namespace

TEST_CASE("Each change is tried until it gives the part its factor, and does what it says") {
  const Shell weak = weak_shell();
  const Margins now = margins(weak, motor(), steady(motor()));
  REQUIRE_FALSE(now.hold());
  const auto changes = tried_changes(weak, motor(), now, steadily, {mortar(), {}});

  const Change* bond = change_of(changes, ChangeKind::longer_bond, "head closure");
  REQUIRE(bond != nullptr);
  CHECK(bond->helps);
  CHECK(bond->part_ratio >= 2);
  Shell longer = weak;
  std::get<BondedJoint>(longer.head->joint).length = bond->to;
  const Margins then = margins(longer, motor(), steady(motor()));
  CHECK(then.ratio() == bond->motor_ratio);
  CHECK(then.weakest().part == bond->gives_first);

  const Change* pins = change_of(changes, ChangeKind::more_pins, "nozzle seat");
  REQUIRE(pins != nullptr);
  CHECK(pins->from == 1);
  CHECK(pins->to > 1);
  CHECK(pins->part_ratio >= 2);
  const Change* layer = change_of(changes, ChangeKind::thicker_protection, "head closure");
  REQUIRE(layer != nullptr);
  CHECK(layer->from == 0);
  CHECK(layer->helps);
  CHECK(change_of(changes, ChangeKind::larger_throat, "head closure") != nullptr);
  CHECK(change_of(changes, ChangeKind::more_pins, "head closure") == nullptr);
  CHECK(std::ranges::is_sorted(changes, {}, &Change::kind));
}

TEST_CASE("A change that does nothing is said to do nothing") {
  Shell cold = weak_shell();
  cold.coefficient = 1e-9;
  const Margins now = margins(cold, motor(), steady(motor()));
  const auto changes = tried_changes(cold, motor(), now, steadily, {mortar(), {}});
  const Change* layer = change_of(changes, ChangeKind::thicker_protection, "head closure");
  REQUIRE(layer != nullptr);
  CHECK_FALSE(layer->helps);
}

TEST_CASE("The smallest throat that holds is found among those of the shop") {
  Shell sturdy = shell();
  sturdy.coefficient = 1e-9;
  const std::vector<double> throats = {14 * mm, 8 * mm, 10 * mm, 12 * mm, 9 * mm};
  const auto found = smallest_throat(sturdy, motor(), throats, steadily);
  REQUIRE(found);
  for (double throat : throats) {
    const Motor changed = with_throat(motor(), throat);
    if (throat < *found) CHECK_FALSE(margins(sturdy, changed, steady(changed)).hold());
    if (throat == *found) CHECK(margins(sturdy, changed, steady(changed)).hold());
  }
  CHECK_FALSE(smallest_throat(sturdy, motor(), {5 * mm}, steadily));
}

TEST_CASE("A straight hole stays straight, and an exit is never narrower than its throat") {
  Motor straight = motor();
  straight.nozzle.exit_diameter = straight.nozzle.throat_diameter;
  CHECK(with_throat(straight, 0.02).nozzle.exit_diameter == 0.02);
  CHECK(with_throat(motor(), 0.02).nozzle.exit_diameter == 22 * mm);
  CHECK(with_throat(motor(), 0.03).nozzle.exit_diameter == 0.03);
}
