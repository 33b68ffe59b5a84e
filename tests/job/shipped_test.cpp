// SPDX-License-Identifier: GPL-3.0-or-later
#include <toml++/toml.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <map>

#include "grainwright/job/job.hpp"
#include "grainwright/motor/gas.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

const std::string report = checks::from_memory("KN-Dextrose & KN-Sorbitol burn-rate report, 1999");
const std::string sucrose_law = checks::from_memory("published strand-burner law of KN/sucrose");

using Table = std::vector<std::pair<double, double>>;

gw::Propellant shipped(const std::string& name) {
  return *gw::shipped_propellant(name);
}

void check_rates(const std::string& name, const std::string& source, const Table& table) {
  const gw::Propellant propellant = shipped(name);
  for (const auto& [megapascals, rate] : table) {
    checks::expect("burn rate of " + name + " at " + std::to_string(megapascals) + " MPa, mm/s",
                   source, rate, propellant.law.rate(megapascals * 1e6) * 1e3,
                   checks::absolute(megapascals < 1 || rate > 13.5 ? 5.1e-4 : 5.1e-5));
  }
}

void check_jumps(const std::string& name, const std::vector<double>& percent) {
  const gw::Propellant propellant = shipped(name);
  const auto pieces = propellant.law.pieces();
  REQUIRE(pieces.size() == percent.size() + 1);
  for (std::size_t i = 0; i < percent.size(); ++i) {
    const double joint = pieces[i].to;
    checks::expect(
        "jump of the burn rate of " + name + " at joint " + std::to_string(i + 1) + ", %", report,
        percent[i], 100 * (pieces[i + 1](joint) / pieces[i](joint) - 1), checks::absolute(5.1e-3));
  }
  CHECK(propellant.law.warnings().empty());
}

double load(const gw::Propellant& p, double kn) {
  return p.ideal_density * p.characteristic_velocity * kn;
}

double kn_at(const gw::Propellant& p, double pressure) {
  return pressure / (p.law.rate(pressure) * load(p, 1));
}

void check_kn(const std::string& name, const std::string& source, const Table& table) {
  const gw::Propellant propellant = shipped(name);
  for (const auto& [megapascals, kn] : table) {
    checks::expect("Kn of " + name + " at " + std::to_string(megapascals) + " MPa, ideal density",
                   source, kn, kn_at(propellant, megapascals * 1e6), checks::absolute(0.0501));
  }
}

}  // namespace

TEST_CASE("Four propellants ship") {
  CHECK(gw::shipped_propellants() ==
        std::vector<std::string>{"kn-sucrose", "kn-dextrose", "kn-sorbitol", "ap-pban"});
  for (const std::string& name : gw::shipped_propellants()) {
    INFO(name);
    CHECK(gw::complaints(shipped(name)).empty());
  }
  CHECK_FALSE(gw::shipped_propellant("kn-xylitol"));
}

TEST_CASE("Every shipped value says where it comes from") {
  const toml::table data = toml::parse_file(GRAINWRIGHT_SOURCE_DIR "/src/job/propellants.toml");
  int count = 0;
  const auto sourced = [&](const toml::table& table) {
    ++count;
    return !table["source"].value_or(std::string()).empty();
  };
  for (const toml::node& propellant : *data["propellant"].as_array()) {
    for (const auto& [key, value] : *propellant.as_table()) {
      INFO(key.str());
      if (key.str() == "law") {
        for (const toml::node& piece : *value.as_array()) CHECK(sourced(*piece.as_table()));
      } else if (key.str() == "formula") {
        for (const auto& [name, part] : *value.as_table()) CHECK(sourced(*part.as_table()));
      } else if (key.str() != "name") {
        CHECK(sourced(*value.as_table()));
      }
    }
  }
  CHECK(count > 50);
}

TEST_CASE("Shipped burn laws give the published rates") {
  check_rates("kn-dextrose", report,
              {{1, 7.5530}, {3, 8.1791}, {5, 11.6235}, {6.895, 12.9248}, {10, 13.2121}});
  check_rates("kn-sorbitol", report, {{1, 8.7630}, {3, 7.7407}, {5, 9.2426}, {6.895, 10.9764}});
  check_rates("kn-sucrose", sucrose_law,
              {{0.101325, 3.979}, {1, 8.26}, {5, 13.802}, {6.895, 15.292}});
}

TEST_CASE("Pieces of the shipped laws meet within a few percent") {
  check_jumps("kn-dextrose", {-0.44, -1.81, 1.11, -1.87});
  check_jumps("kn-sorbitol", {0.09, 1.24, 3.27, -1.39});
}

TEST_CASE("Characteristic velocity follows from flame temperature, molar mass and gamma") {
  const std::map<std::string, double> derived = {
      {"kn-sucrose", 918.88}, {"kn-dextrose", 912.41}, {"kn-sorbitol", 908.58}};
  for (const auto& [name, velocity] : derived) {
    const gw::Propellant p = shipped(name);
    const double got = gw::characteristic_velocity(p.flame_temperature, p.molar_mass, p.gamma);
    checks::expect("c* of " + name + " from its T0, M and gamma, m/s", checks::closed_form,
                   velocity, got, checks::absolute(0.03));
    CHECK(p.characteristic_velocity == Approx(got).epsilon(5e-4));
  }
  checks::expect("c* of kn-sorbitol, m/s",
                 "KN/sorbitol 65/35 at 1000 psia, published thermochemical performance", 909,
                 shipped("kn-sorbitol").characteristic_velocity, checks::absolute(0.5));
}

TEST_CASE("Ideal density follows from the ingredients'") {
  const std::map<std::string, double> second = {
      {"kn-sucrose", 1581}, {"kn-dextrose", 1562}, {"kn-sorbitol", 1489}};
  for (const auto& [name, density] : second) {
    const gw::Propellant p = shipped(name);
    REQUIRE(p.formula.size() == 2);
    CHECK(p.formula[0].name == "potassium nitrate");
    const double mixed =
        1 / (p.formula[0].mass_fraction / 2109 + p.formula[1].mass_fraction / density);
    checks::expect("ideal density of " + name + " from its ingredients, kg/m3",
                   checks::from_memory("handbook densities of the ingredients"), mixed,
                   p.ideal_density, checks::absolute(1));
  }
}

TEST_CASE("Kn for a given pressure") {
  check_kn("kn-dextrose", report,
           {{1, 77.3}, {2, 155.5}, {3, 214.0}, {4, 234.1}, {5, 251.0}, {6, 265.4}, {8, 369.2}});
  check_kn("kn-sorbitol", report,
           {{1, 68.2}, {2, 153.6}, {3, 231.6}, {4, 291.4}, {5, 323.3}, {6, 351.9}, {8, 433.5}});
  check_kn("kn-sucrose", sucrose_law,
           {{1, 69.7}, {2, 111.8}, {3, 147.4}, {4, 179.3}, {5, 208.7}, {6, 236.3}, {8, 287.4}});
}

TEST_CASE("Pressure for a given Kn is the lower root where two balance") {
  for (const std::string name : {"kn-dextrose", "kn-sorbitol", "kn-sucrose"}) {
    const gw::Propellant p = shipped(name);
    for (double pressure : {1e6, 2e6, 3e6, 5e6, 6e6, 8e6}) {
      INFO(name << " at " << pressure);
      CHECK(p.law.pressure(load(p, kn_at(p, pressure))) == Approx(pressure).epsilon(1e-12));
    }
  }
  // Sorbitol's rate jumps up by 3.3 % at 3.79 MPa, so that 4 MPa shares its Kn with a pressure
  // below.
  const gw::Propellant sorbitol = shipped("kn-sorbitol");
  const double kn = kn_at(sorbitol, 4e6);
  const double lower = sorbitol.law.pressure(load(sorbitol, kn));
  CHECK(lower < 3.79e6);
  CHECK(kn_at(sorbitol, lower) == Approx(kn).epsilon(1e-12));
}

TEST_CASE("The composite is a textbook's") {
  const gw::Propellant p = shipped("ap-pban");
  const double psi = 6894.757293168361;
  const std::string source =
      checks::from_memory("large PBAN booster, Sutton & Biblarz, Rocket Propulsion Elements");
  checks::expect("burn rate of ap-pban at 625 psia, in/s", source, 0.368,
                 p.law.rate(625 * psi) / 0.0254, checks::absolute(5e-4));
  checks::expect("burn rate of ap-pban at 1 psia, in/s", source, 0.0386, p.law.rate(psi) / 0.0254,
                 checks::absolute(1e-4));
  CHECK((p.characteristic_velocity >= 1500 && p.characteristic_velocity <= 1590));
  CHECK((p.gamma >= 1.17 && p.gamma <= 1.21));
}
