// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "grainwright/motor/gas.hpp"
#include "job_text.hpp"

namespace gw = grainwright;
using job_text::complaints_of;

namespace {

const std::string own = R"([propellant]
name = "batch 12"
density = "1.8 g/cm3"
flame_temperature = "1650 K"
molar_mass = "41 g/mol"
gamma = 1.14
[[propellant.law]]
rate = "8 mm/s"
at = "2 MPa"
n = 0.4
to = "3 MPa"
[[propellant.law]]
rate = "9.4 mm/s"
at = "3 MPa"
n = 0.2
from = "3 MPa"
[propellant.formula]
"oxidiser, fine" = 0.65
fuel = "35 %"
)";

gw::Propellant read(const std::string& text) {
  return *gw::parse_job(text, "").propellant;
}

}  // namespace

TEST_CASE("An own propellant is read") {
  const gw::Propellant p = read(own);
  CHECK(p.ideal_density == Approx(1800));
  CHECK(p.characteristic_velocity == gw::characteristic_velocity(1650, 0.041, 1.14));
  REQUIRE(p.law.pieces().size() == 2);
  CHECK(p.law.rate(2e6) == Approx(8e-3));
  REQUIRE(p.formula.size() == 2);
  CHECK(p.formula[0] == gw::Ingredient{"oxidiser, fine", 0.65});
  CHECK(p.formula[1].mass_fraction == Approx(0.35));
}

TEST_CASE("A measured characteristic velocity counts before the flame temperature") {
  CHECK(read(job_text::changed(own, "gamma", "characteristic_velocity = \"900 m/s\"\ngamma"))
            .characteristic_velocity == 900);
}

TEST_CASE("A shipped propellant is replaced key by key") {
  const std::string base = "[propellant]\nname = \"kn-dextrose\"\n";
  const gw::Propellant shipped = *gw::shipped_propellant("kn-dextrose");
  CHECK(read(base).characteristic_velocity == shipped.characteristic_velocity);
  CHECK(read(base + "density_ratio = 0.9").density_ratio == 0.9);
  CHECK(read(base + "density_ratio = 0.9").ideal_density == shipped.ideal_density);
  CHECK(read(base + "gamma = 1.2").characteristic_velocity == shipped.characteristic_velocity);
  CHECK(read(base + "flame_temperature = \"1650 K\"").characteristic_velocity ==
        gw::characteristic_velocity(1650, shipped.molar_mass, shipped.gamma));
  const gw::Propellant relit = read(base + "[[propellant.law]]\nrate = \"8 mm/s\"\nn = 0.3\n");
  CHECK(relit.law.pieces().size() == 1);
  CHECK(relit.formula == shipped.formula);
}

TEST_CASE("Mistakes in a propellant have their place") {
  const auto with = [](const std::string& from, const std::string& to) {
    const auto lines = complaints_of(job_text::changed(own, from, to));
    REQUIRE(lines.size() == 1);
    return lines.front();
  };
  CHECK_THAT(with("n = 0.4", "n = 1"), Catch::StartsWith("10:5: propellant.law 1: n: 1: below 1"));
  CHECK_THAT(with("from = \"3 MPa\"", "from = \"4 MPa\""),
             Catch::StartsWith("16:8: propellant.law 2: from: \"4 MPa\": where the piece before"));
  CHECK_THAT(with("\"35 %\"", "0.5"), Catch::StartsWith("17:1: propellant.formula: 1.15"));
  CHECK_THAT(with("fuel = \"35 %\"", "fuel = \"heavy\""),
             Catch::StartsWith("19:8: propellant.formula.fuel: "));
  CHECK_THAT(with("molar_mass = \"41 g/mol\"\n", ""),
             Catch::StartsWith("1:1: propellant.characteristic_velocity: missing: "));
  CHECK_THAT(with("gamma = 1.14", "gamma = 1"),
             Catch::StartsWith("6:9: propellant.gamma: 1: above 1"));
  CHECK_THAT(with("density = \"1.8 g/cm3\"", ""),
             Catch::StartsWith("2:8: propellant.name: \"batch 12\": a shipped propellant ("));
}

TEST_CASE("A jump of the burn law is remarked on") {
  const gw::Job job = gw::parse_job(job_text::changed(own, "9.4 mm/s", "12 mm/s"), "");
  CHECK(job.remarks.size() == 1);
}
