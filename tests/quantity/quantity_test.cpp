// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/quantity.hpp"

#include <rapidcheck.h>

#include <bit>
#include <catch2/catch.hpp>
#include <clocale>
#include <cmath>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "grainwright/error.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using Catch::Matchers::Contains;

namespace {

const std::string sp811 = checks::from_memory("NIST SP 811 (2008), appendix B");
constexpr double inch = 0.0254;

constexpr int dimension_count = static_cast<int>(Dimension::distance) + 1;

std::vector<Dimension> all_dimensions() {
  std::vector<Dimension> all;
  for (int i = 0; i < dimension_count; ++i) all.push_back(static_cast<Dimension>(i));
  return all;
}

double read(std::string_view text, Dimension dimension) {
  return read_quantity(text, dimension);
}
double length(std::string_view text) {
  return read_quantity(text, Dimension::length);
}

// What the complaint says was given, and that it says what is allowed with an example.
std::string refusal(std::string_view text, Dimension dimension) {
  try {
    const double value = read_quantity(text, dimension);
    FAIL("\"" << text << "\" was read as " << value);
  } catch (const InputError& error) {
    REQUIRE(error.complaints().size() == 1);
    const Complaint& complaint = error.complaints().front();
    CHECK(complaint.key.empty());
    CHECK(complaint.allowed == example_of(dimension));
    CHECK_THAT(complaint.allowed, Contains("e.g. \""));
    return complaint.given;
  }
  return {};
}

// Any finite double whatever, by its bits.
rc::Gen<double> any_finite() {
  return rc::gen::suchThat(
      rc::gen::map(rc::gen::resize(100 * 100, rc::gen::arbitrary<std::uint64_t>()),
                   [](std::uint64_t bits) { return std::bit_cast<double>(bits); }),
      [](double value) { return std::isfinite(value); });
}

// Magnitudes that a job may hold.
rc::Gen<double> sensible() {
  return rc::gen::map(
      rc::gen::pair(rc::gen::inRange(1, 1'000'000'000), rc::gen::inRange(-12, 1)),
      [](std::pair<int, int> parts) { return parts.first * std::pow(10.0, parts.second); });
}

}  // namespace

TEST_CASE("Units are worth what their definitions say") {
  struct Row {
    const char* text;
    Dimension dimension;
    double si;
  };
  const Row rows[] = {
      {"1 in", Dimension::length, 0.0254},
      {"1 ft", Dimension::length, 0.3048},
      {"1 lb", Dimension::mass, 0.45359237},
      {"1 oz", Dimension::mass, 0.028349523125},
      {"1 slug", Dimension::mass, 14.593902937},
      {"1 atm", Dimension::pressure, 101325},
      {"1 bar", Dimension::pressure, 1e5},
      {"1 psi", Dimension::pressure, 8896443230521.0 / 1290320000.0},
      {"1 ksi", Dimension::pressure, 6.894757293e6},
      {"1 inHg", Dimension::pressure, 3386.389},
      {"1 lbf", Dimension::force, 4.4482216152605},
      {"1 kgf", Dimension::force, 9.80665},
      {"1 lb/in3", Dimension::density, 27679.904710203},
      {"1 Btu/lb-degF", Dimension::specific_heat, 1055.05585262 / 0.45359237 * 1.8},
      {"1 mph", Dimension::speed, 0.44704},
      {"0 degF", Dimension::temperature, 459.67 / 1.8},
      {"1 degF", Dimension::temperature_step, 5.0 / 9},
      {"1 R", Dimension::temperature, 5.0 / 9},
  };
  for (const Row& row : rows) {
    checks::expect(std::string(row.text) + " in SI", sp811, row.si, read(row.text, row.dimension),
                   checks::relative(2e-10));
  }
  checks::expect("1 psi in Pa, as the quotient of whole numbers that defines it",
                 checks::closed_form, 8896443230521.0 / 1290320000.0,
                 read("1 psi", Dimension::pressure), checks::relative(1e-15));
  checks::expect("1 lbf in N", checks::closed_form, 0.45359237 * 9.80665,
                 read("1 lbf", Dimension::force), checks::relative(1e-15));
}

TEST_CASE("Conversions follow from the definitions") {
  const auto& source = checks::closed_form;
  checks::expect("1 atm in psi", source, 14.695948776,
                 in_units(read("1 atm", Dimension::pressure), Dimension::pressure, UnitSystem::us),
                 checks::relative(1e-10));
  checks::expect("14.7 psi in Pa, which is not 1 atm", source, 101352.932,
                 read("14.7 psi", Dimension::pressure), checks::absolute(5e-4));
  checks::expect("70 degF in K", source, 294.261111, read("70 degF", Dimension::temperature),
                 checks::absolute(5e-7));
  checks::expect("-40 degF in K", source, 233.15, read("-40 degF", Dimension::temperature),
                 checks::absolute(1e-10));
  checks::expect("-40 degC in K", source, 233.15, read("-40 degC", Dimension::temperature),
                 checks::absolute(1e-10));
  checks::expect("20/64 in, in m", source, 7.9375e-3, length("20/64 in"), checks::relative(1e-15));
  checks::expect("1 lb/s-in2 in kg/m2-s", source, 703.069580,
                 read("1 lb/s-in2", Dimension::mass_flux), checks::absolute(5e-7));
  checks::expect("1 Btu/h-ft2-F in W/m2-K", source, 5.6782633,
                 read("1 Btu/h-ft2-F", Dimension::heat_transfer), checks::absolute(5e-8));
  checks::expect("1 Btu/in2-s-F in W/m2-K", source, 2943611.7,
                 read("1 btu/in2-s-F", Dimension::heat_transfer), checks::absolute(0.05));
  checks::expect("1000 psia in atm", source, 68.0459639,
                 read("1000 psia", Dimension::pressure) / 101325, checks::absolute(5e-8));
}

TEST_CASE("A burn coefficient goes from in/s and psi to mm/s and MPa") {
  const double rate = read("1 in/s", Dimension::speed) / read("1 mm/s", Dimension::speed);
  const double pressure = read("1 MPa", Dimension::pressure) / read("1 psi", Dimension::pressure);
  struct Row {
    double n;
    double factor;
  };
  for (const Row& row : {Row{0.3, 113.0519406}, Row{0.32, 124.8842420}, Row{0.4, 185.9628201},
                         Row{0.5, 305.8963009}}) {
    checks::expect(
        "factor from in/s psi^-n to mm/s MPa^-n, n = " + std::to_string(row.n).substr(0, 4),
        checks::closed_form, row.factor, rate * std::pow(pressure, row.n), checks::absolute(1e-7));
  }
}

TEST_CASE("Lengths are read as a workshop writes them") {
  CHECK(length("2 7/16 in") == 2.4375 * inch);
  CHECK(length("1-1/2 in") == 1.5 * inch);
  CHECK(length("1-1/2\"") == 1.5 * inch);
  CHECK(length("7/16 in") == 0.4375 * inch);
  CHECK(length("17/16in") == 1.0625 * inch);
  CHECK(length("  2   7/16   inches ") == 2.4375 * inch);
  CHECK(length("-1/2 in") == -0.5 * inch);
  CHECK(length("-1-1/2 in") == -1.5 * inch);
  CHECK(length("1e-3 m") == 0.001);
  CHECK(length("1E+3 mm") == 1);
  CHECK(length(".5 in") == 0.5 * inch);
  CHECK(length("5. mm") == 0.005);
  CHECK(length("+5 mm") == 0.005);
  CHECK(length("7/16 mm") == 0.4375e-3);
  CHECK(length("10 mil") == Approx(10e-3 * inch).epsilon(1e-15));
  CHECK(length("3 ft") == 3 * 0.3048);
}

TEST_CASE("A decimal in a metric unit becomes the nearest double, not one beside it") {
  CHECK(length("61.9 mm") == 0.0619);
  CHECK(length("61.9125 mm") == 0.0619125);
  CHECK(length("0.3 mm") == 0.0003);
  CHECK(length("6.19e1 mm") == 0.0619);
  CHECK(read("1.84 g/cm3", Dimension::density) == 1840);
  CHECK(read("39.86 g/mol", Dimension::molar_mass) == 0.03986);
  CHECK(read("5.13 MPa", Dimension::pressure) == 5.13e6);
  CHECK(rc::check("n tenths of a millimetre", [] {
    const int tenths = *rc::gen::inRange(0, 1'000'000);
    const std::string digits = std::to_string(tenths);
    RC_ASSERT(length(std::to_string(tenths / 10) + "." + std::to_string(tenths % 10) + " mm") ==
              std::stod(digits + "e-4"));
  }));
}

TEST_CASE("Unit expressions take the trade's ways of joining symbols") {
  const double flux = read("1 lb/s-in2", Dimension::mass_flux);
  for (const char* text : {"1 lb/s/in2", "1 lb/(s in2)", "1 lb/s in^2", "1 lb s^-1 in-2",
                           "1 lb/s*in2", "1 lb/s·in²", "1 lb / s-in2", "1 lb s-1 in-2"}) {
    INFO(text);
    CHECK(read(text, Dimension::mass_flux) == Approx(flux).epsilon(1e-15));
  }
  for (const char* text : {"3 N s", "3 N-s", "3 N*s", "3 N·s", "3 Ns", "3 kg m/s", "0.003 kN s"}) {
    INFO(text);
    CHECK(read(text, Dimension::impulse) == Approx(3).epsilon(1e-15));
  }
  CHECK(read("700 kg/m2-s", Dimension::mass_flux) == 700);
  CHECK(read("0.16 W/m-K", Dimension::conductivity) == 0.16);
  CHECK(read("880 J/(kg K)", Dimension::specific_heat) == 880);
  CHECK(read("1 1/K", Dimension::per_kelvin) == 1);
  CHECK(read("1/K", Dimension::per_kelvin) == 1);
  CHECK(read("0.2 %/K", Dimension::per_kelvin) == 0.002);
  CHECK(read("0.001 1/degF", Dimension::per_kelvin) == Approx(0.0018).epsilon(1e-15));
  CHECK(read("0.001 /K", Dimension::per_kelvin) == 0.001);
  CHECK(read("8 in/s", Dimension::speed) == 8 * inch);
  CHECK(read("2 N/mm", Dimension::stiffness) == 2000);
  CHECK(read("1 kHz", Dimension::frequency) == 1000);
  CHECK(read("50 1/s", Dimension::frequency) == 50);
  CHECK(read("1 min", Dimension::time) == 60);
  CHECK(read("1 L", Dimension::volume) == 0.001);
  CHECK(read("1000 kPa", Dimension::pressure) == 1e6);
  CHECK(read("39.86 kg/kmol", Dimension::molar_mass) == 0.03986);
  CHECK(read("5 \u00b5m", Dimension::length) == 5e-6);
  CHECK(read("5 \u03bcm", Dimension::length) == 5e-6);
  CHECK(read("180\u00b0", Dimension::angle) == Approx(3.141592653589793).epsilon(1e-15));
  CHECK(read("15\u00a0deg", Dimension::angle) == read("15 deg", Dimension::angle));
}

TEST_CASE("A temperature has an offset, a difference has none") {
  for (const char* text : {"20 degC", "20 \u00b0C", "20\u00b0C", "20 deg C", "20 C", "20 \u2103"}) {
    INFO(text);
    CHECK(read(text, Dimension::temperature) == 293.15);
    CHECK(read(text, Dimension::temperature_step) == 20);
  }
  CHECK(read("293.15 K", Dimension::temperature) == 293.15);
  CHECK(read("527.67 R", Dimension::temperature) == Approx(293.15).epsilon(1e-15));
  CHECK(read("68 \u00b0F", Dimension::temperature) == Approx(293.15).epsilon(1e-15));
  CHECK(read("9 \u00b0F", Dimension::temperature_step) == Approx(5).epsilon(1e-15));
}

TEST_CASE("Only a ratio may be a plain number") {
  CHECK(read("0.95", Dimension::ratio) == 0.95);
  CHECK(read("95 %", Dimension::ratio) == 0.95);
  CHECK(read("95%", Dimension::ratio) == 0.95);
  CHECK(read("3/4", Dimension::ratio) == 0.75);
  for (Dimension dimension : all_dimensions()) {
    if (dimension == Dimension::ratio) continue;
    CHECK(refusal("0.95", dimension) == "\"0.95\" has no unit");
    CHECK(refusal("1 7/16", dimension) == "\"1 7/16\" has no unit");
  }
}

TEST_CASE("What is of another kind is named") {
  CHECK(refusal("4 MPa", Dimension::length) == "\"4 MPa\" is a pressure");
  CHECK(refusal("4 mm2", Dimension::length) == "\"4 mm2\" is an area");
  CHECK(refusal("4 mm", Dimension::ratio) == "\"4 mm\" is a length");
  CHECK(refusal("95 %", Dimension::length) == "\"95 %\" is a ratio");
  CHECK(refusal("120 lb", Dimension::force) == "\"120 lb\" is a mass (pounds of force are lbf)");
  CHECK(refusal("2 lbf", Dimension::mass) == "\"2 lbf\" is a force (pounds of mass are lb)");
  CHECK(refusal("2 kg m5", Dimension::mass) ==
        "\"2 kg m5\" is of no kind that is asked for anywhere");
  const auto dimensions = all_dimensions();
  for (Dimension asked : dimensions) {
    for (Dimension given : dimensions) {
      const std::string text = write_quantity(1, given);
      const bool same_unit = text == write_quantity(1, asked);
      INFO(text << " for " << name_of(asked));
      if (same_unit) {
        CHECK(read(text, asked) == 1);
      } else if (given == Dimension::ratio) {
        CHECK_THAT(refusal(text, asked), Contains("has no unit"));
      } else {
        CHECK_THAT(refusal(text, asked), Contains("\"" + text + "\" is a"));
      }
    }
  }
}

TEST_CASE("Gauge pressures are refused with a word") {
  for (const char* text : {"300 psig", "20 barg", "20 kPag", "2 MPag"}) {
    CHECK_THAT(refusal(text, Dimension::pressure), Contains("gauge pressure; add that of the air"));
  }
}

TEST_CASE("What is no number is refused") {
  CHECK(refusal("", Dimension::length) == "nothing");
  CHECK(refusal("   \t ", Dimension::length) == "nothing");
  for (const char* text : {"in", "nan mm", "NaN", "inf mm", "-inf mm", "infinity m", "mm 5", "auto",
                           "/16 in", "- 5 mm", "--5 mm", ".", ". mm", "e5 mm", "(5) mm", "+ mm"}) {
    INFO(text);
    CHECK_THAT(refusal(text, Dimension::length), Contains("does not begin with a number"));
  }
  for (const char* text :
       {"0x10 mm", "5 foo", "5 mmm", "5 mm mm!", "5 MM", "5 mm/", "5 mm//s", "5 *", "5 -mm",
        "1.5 1/2 in", "1e-1/2 in", "5 mm^", "5 mm22", "5e mm", "5 (mm)"}) {
    INFO(text);
    CHECK_THAT(refusal(text, Dimension::length), Contains("has a unit that is not known"));
  }
  CHECK_THAT(refusal("1e999 mm", Dimension::length), Contains("too large"));
  CHECK_THAT(refusal("1e308 km", Dimension::length), Contains("too large"));
  CHECK_THAT(refusal("1e99999999999999999999 mm", Dimension::length), Contains("too large"));
  CHECK_THAT(refusal("1/0 in", Dimension::length), Contains("divides by zero"));
  CHECK_THAT(refusal("0/0 in", Dimension::length), Contains("divides by zero"));
  CHECK_THAT(refusal("2 1/0 in", Dimension::length), Contains("divides by zero"));
  CHECK_THAT(refusal("1/2.5 in", Dimension::length), Contains("not a fraction of whole numbers"));
  CHECK_THAT(refusal("2 17/16 in", Dimension::length), Contains("fraction of 1 or more"));
  CHECK_THAT(refusal("1,5 mm", Dimension::length), Contains("the decimal mark is a point"));
  CHECK_THAT(refusal("1,000 psi", Dimension::pressure), Contains("the decimal mark is a point"));
}

TEST_CASE("A complaint about long or hostile text stays short and printable") {
  const std::string given = refusal("5 " + std::string(100000, 'x'), Dimension::length);
  CHECK(given.size() < 100);
  CHECK_THAT(refusal("5 mm" + std::string(1000, ' ') + "x", Dimension::length),
             Contains("is too long"));
  CHECK(refusal(std::string_view("5 \x1b[31m\0mm", 10), Dimension::length) ==
        "\"5 ?[31m?mm\" has a unit that is not known: \"?[31m?mm\"");
  // Signs that shrink when spelled out must not carry text past the limit.
  std::string spaces = "5 mm";
  for (int i = 0; i < 150; ++i) spaces += "\u00a0";
  CHECK_THAT(refusal(spaces + "x", Dimension::length), Contains("is too long"));
}

TEST_CASE("Any bytes are read or refused, never worse") {
  const auto survives = [](const std::string& text) {
    for (Dimension dimension : all_dimensions()) {
      try {
        RC_ASSERT(std::isfinite(read_quantity(text, dimension)));
      } catch (const InputError& error) {
        for (char c : error.complaints().front().given) RC_ASSERT((c >= ' ' && c <= '~'));
      }
    }
  };
  CHECK(rc::check("bytes", [&] { survives(*rc::gen::arbitrary<std::string>()); }));
  CHECK(rc::check("what looks like a quantity", [&] {
    survives(*rc::gen::container<std::string>(
        rc::gen::elementOf(std::string("0123456789./-+eE \"'^*%(),kMmginlbfsPaKFC\xc2\xb0\xb7"))));
  }));
}

TEST_CASE("Reading does not depend on the locale") {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) == nullptr) continue;
    CHECK(length("61.9 mm") == 0.0619);
    CHECK(show(0.0619125, Dimension::length, UnitSystem::si) == "61.91 mm");
    CHECK(write_length(0.0619) == "61.9 mm");
  }
  std::setlocale(LC_ALL, before.c_str());
}

TEST_CASE("Quantities print in the units of the trade") {
  struct Row {
    double si;
    Dimension dimension;
    const char* us;
    const char* metric;
  };
  const Row rows[] = {
      {0.95, Dimension::ratio, "0.95", "0.95"},
      {0.0619125, Dimension::length, "2.438 in", "61.91 mm"},
      {0.0345575, Dimension::area, "53.56 in2", "345.6 cm2"},
      {2e-4, Dimension::volume, "12.2 in3", "200 cm3"},
      {0.99257, Dimension::mass, "2.188 lb", "992.6 g"},
      {25, Dimension::mass, "55.12 lb", "25 kg"},
      {3.506638, Dimension::time, "3.507 s", "3.507 s"},
      {0.00826, Dimension::speed, "0.3252 in/s", "8.26 mm/s"},
      {15, Dimension::speed, "49.21 ft/s", "15 m/s"},
      {9.80665, Dimension::acceleration, "32.17 ft/s2", "9.807 m/s2"},
      {4e6, Dimension::pressure, "580.2 psi", "4 MPa"},
      {101325, Dimension::pressure, "14.7 psi", "0.1013 MPa"},
      {535.899, Dimension::force, "120.5 lbf", "535.9 N"},
      {2161.896, Dimension::impulse, "2162 N s", "2162 N s"},
      {21618.96, Dimension::impulse, "21620 N s", "21620 N s"},
      {293.15, Dimension::temperature, "68 degF", "20 degC"},
      {15, Dimension::temperature_step, "27 degF", "15 degC"},
      {0.0018, Dimension::per_kelvin, "0.1 %/degF", "0.18 %/K"},
      {0.2617993877991494, Dimension::angle, "15 deg", "15 deg"},
      {1840, Dimension::density, "0.06647 lb/in3", "1.84 g/cm3"},
      {703.06958, Dimension::mass_flux, "1 lb/s-in2", "703.1 kg/m2-s"},
      {0.03986, Dimension::molar_mass, "39.86 g/mol", "39.86 g/mol"},
      {0.16, Dimension::conductivity, "0.09245 Btu/h-ft-degF", "0.16 W/m-K"},
      {880, Dimension::specific_heat, "0.2102 Btu/lb-degF", "880 J/kg-K"},
      {500, Dimension::heat_transfer, "88.06 Btu/h-ft2-degF", "500 W/m2-K"},
      {1000, Dimension::frequency, "1000 Hz", "1000 Hz"},
      {2e6, Dimension::stiffness, "11420 lbf/in", "2000 N/mm"},
      {1234.5, Dimension::distance, "4050 ft", "1234 m"},
  };
  for (const Row& row : rows) {
    CHECK(show(row.si, row.dimension, UnitSystem::us) == row.us);
    CHECK(show(row.si, row.dimension, UnitSystem::si) == row.metric);
  }
}

TEST_CASE("Printed numbers keep their digits and no more") {
  const auto bare = [](double value, int digits) {
    return show(value, Dimension::ratio, UnitSystem::si, digits);
  };
  CHECK(bare(0, 4) == "0");
  CHECK(bare(-0.0, 4) == "0");
  CHECK(bare(9.9996, 4) == "10");
  CHECK(bare(-1.5, 4) == "-1.5");
  CHECK(bare(123456, 4) == "123500");
  CHECK(bare(123456, 9) == "123456");
  CHECK(bare(1.0 / 3, 7) == "0.3333333");
  CHECK(bare(0.00012345, 3) == "0.000123");
  CHECK(bare(1.5e-9, 4) == "1.5e-9");
  CHECK(bare(1e12, 4) == "1e12");
  CHECK(bare(std::numeric_limits<double>::infinity(), 4) == "inf");
}

TEST_CASE("What is shown can be read again") {
  for (Dimension dimension : all_dimensions()) {
    for (UnitSystem units : {UnitSystem::us, UnitSystem::si}) {
      CHECK(rc::check(std::string(name_of(dimension)), [&] {
        const double value = *sensible();
        const double again = read_quantity(show(value, dimension, units, 15), dimension);
        // A temperature's digits are spent on degrees from its own zero.
        const double scale = std::abs(value) + (dimension == Dimension::temperature ? 500 : 0);
        RC_ASSERT(std::abs(again - value) <= 1e-13 * scale);
      }));
    }
  }
}

TEST_CASE("Columns are headed by the unit that their numbers have") {
  CHECK(unit_of(Dimension::length, UnitSystem::us) == "in");
  CHECK(unit_of(Dimension::length, UnitSystem::si) == "mm");
  CHECK(unit_of(Dimension::ratio, UnitSystem::us).empty());
  CHECK(in_units(0.0619125, Dimension::length, UnitSystem::us) == Approx(2.4375).epsilon(1e-15));
  CHECK(in_units(293.15, Dimension::temperature, UnitSystem::us) == Approx(68).epsilon(1e-13));
  CHECK(in_units(4e6, Dimension::pressure, UnitSystem::si) == 4);
}

TEST_CASE("Lengths for the workbench carry the nearest 1/64 inch") {
  const auto us = [](double inches) { return show_length(inches * inch, UnitSystem::us); };
  CHECK(us(2.4375) == "2.4375 in (2 7/16)");
  CHECK(us(2.437) == "2.437 in (2 7/16)");
  CHECK(us(2.445) == "2.445 in (about 2 7/16)");
  CHECK(us(7 + 31.0 / 64) == "7.484375 in (7 31/64)");
  CHECK(us(0.3125) == "0.3125 in (5/16)");
  CHECK(us(3) == "3 in");
  CHECK(us(3.0005) == "3.0005 in (3)");
  CHECK(us(-0.5) == "-0.5 in (-1/2)");
  CHECK(us(0) == "0 in");
  CHECK(us(0.002) == "0.002 in");
  CHECK(us(1e9) == "1000000000 in");
  CHECK(show_length(0.0619125, UnitSystem::si) == "61.91 mm");
  CHECK(show_length(0.085, UnitSystem::si) == "85 mm");
  CHECK(show_length(-0.00635, UnitSystem::si) == "-6.35 mm");
  CHECK(show_length(-1e-9, UnitSystem::si) == "0 mm");
}

TEST_CASE("Written lengths and quantities come back as the same double") {
  CHECK(write_length(2.4375 * inch) == "2 7/16 in");
  CHECK(write_length(0.5 * inch) == "1/2 in");
  CHECK(write_length(3 * inch) == "3 in");
  CHECK(write_length(0.085) == "85 mm");
  CHECK(write_length(0.00005) == "0.05 mm");
  CHECK(write_length(12.5) == "12500 mm");
  CHECK(write_length(0) == "0 in");
  CHECK(write_quantity(5.13e6, Dimension::pressure) == "5130000 Pa");
  CHECK(write_quantity(0.95, Dimension::ratio) == "0.95");
  CHECK(rc::check("sixty-fourths of an inch", [] {
    const double metres = *rc::gen::inRange(-10000, 10000) / 64.0 * inch;
    RC_ASSERT(write_length(metres).ends_with(" in"));
    RC_ASSERT(read_quantity(write_length(metres), Dimension::length) == metres);
  }));
  CHECK(rc::check("lengths", [] {
    const double metres = *rc::gen::oneOf(sensible(), any_finite());
    RC_PRE(std::abs(metres) < 1e300 && (std::abs(metres) > 1e-300 || metres == 0));
    RC_ASSERT(read_quantity(write_length(metres), Dimension::length) == metres);
  }));
  for (Dimension dimension : all_dimensions()) {
    CHECK(rc::check(std::string(name_of(dimension)), [dimension] {
      const double value = *rc::gen::oneOf(sensible(), any_finite());
      RC_ASSERT(read_quantity(write_quantity(value, dimension), dimension) == value);
    }));
  }
}

TEST_CASE("a tape's fraction of an inch stands alone") {
  CHECK(show_fraction(0.0619125) == "2 7/16 in");
  CHECK(show_fraction(0.0508) == "2 in");
  CHECK(show_fraction(0.065) == "about 2 9/16 in");
  CHECK(show_fraction(0) == "0 in");
}
