// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/burn_law.hpp"

#include <rapidcheck.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "support/checks.hpp"

using namespace grainwright;

namespace {

constexpr double MPa = 1e6;
constexpr double mm_s = 1e-3;
constexpr double psi = 6894.757293168361;
constexpr double in_s = 0.0254;
constexpr double infinity = std::numeric_limits<double>::infinity();

// The report's page was seen, its table was not: the numbers are recalled.
const std::string strand_report = checks::from_memory(
    "Nakka, KN-Dextrose & KN-Sorbitol Propellants, Burn Rate Experimentation, 1999");

// One piece, r in mm/s with P in MPa.
LawPiece piece(double from_MPa, double to_MPa, double rate_mm_s, double exponent) {
  return {.rate = rate_mm_s * mm_s,
          .at = MPa,
          .exponent = exponent,
          .from = from_MPa * MPa,
          .to = to_MPa * MPa};
}

BurnLaw dextrose() {
  return BurnLaw({piece(0.103, 0.779, 8.875, 0.619), piece(0.779, 2.57, 7.553, -0.009),
                  piece(2.57, 5.93, 3.841, 0.688), piece(5.93, 8.50, 17.20, -0.148),
                  piece(8.50, 11.20, 4.775, 0.442)});
}
BurnLaw sorbitol() {
  return BurnLaw({piece(0.103, 0.807, 10.708, 0.625), piece(0.807, 1.50, 8.763, -0.314),
                  piece(1.50, 3.79, 7.852, -0.013), piece(3.79, 7.03, 3.907, 0.535),
                  piece(7.03, 10.67, 9.653, 0.064)});
}
BurnLaw sucrose() {
  return BurnLaw({piece(0.1, 10.3, 8.26, 0.319)});
}

// One piece that holds at every pressure.
BurnLaw one_piece(double rate, double at, double exponent) {
  return BurnLaw({{.rate = rate, .at = at, .exponent = exponent}});
}

// A law whose rate is multiplied by `jump` where its two pieces meet, at 2 MPa.
BurnLaw jumping(double jump) {
  double rate = 5;
  return BurnLaw(
      {piece(0.1, 2, rate, 0.3), piece(2, 10, jump * rate * std::pow(2, 0.3 - 0.5), 0.5)});
}

// The rate leaps up at 2 MPa so far that the whole of 2 to 2.1 MPa balances less load.
BurnLaw shadowing() {
  return BurnLaw({piece(0.1, 2, 5, 0), piece(2, 2.1, 10, 0), piece(2.1, 10, 5, 0)});
}

// P/r just over a joint, in the piece that begins there.
double load_above(const BurnLaw& law, std::size_t joint) {
  const LawPiece& upper = law.pieces()[joint];
  return upper.from / upper(upper.from);
}
double load_below(const BurnLaw& law, std::size_t joint) {
  const LawPiece& lower = law.pieces()[joint - 1];
  return lower.to / lower(lower.to);
}

std::string at_MPa(const std::string& what, double megapascal) {
  return what + " at MPa " + Catch::Detail::stringify(megapascal);
}

checks::Within half_unit(double last_digit) {
  return checks::absolute(0.500001 * last_digit);
}

bool complains_about(const std::vector<LawPiece>& pieces, const std::string& key) {
  for (const Complaint& complaint : complaints(pieces)) {
    if (complaint.key.find(key) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("Textbook laws give the textbook's burn rates") {
  // Printed with a slide rule's error, up to 3 %; the digits beside it are the laws' own.
  struct Row {
    double pressure, printed_1, printed_2, exact_1, exact_2;
  };
  const Row rows[] = {
      {500, 0.367, 0.720, 0.36795, 0.72067}, {1000, 0.685, 0.95, 0.68663, 0.95094},
      {1500, 0.994, 1.11, 0.98901, 1.11838}, {2000, 1.28, 1.26, 1.28129, 1.25477},
      {2500, 1.56, 1.33, 1.56627, 1.37192},
  };
  const std::string example_11_1 =
      "Sutton & Biblarz, Rocket Propulsion Elements, 7th ed., ex. 11-1";
  BurnLaw steep = one_piece(0.00137 * in_s, psi, 0.9);
  BurnLaw flat = one_piece(0.060 * in_s, psi, 0.4);
  for (const Row& row : rows) {
    double r1 = steep.rate(row.pressure * psi) / in_s;
    double r2 = flat.rate(row.pressure * psi) / in_s;
    std::string at = " at psi " + Catch::Detail::stringify(row.pressure);
    checks::expect("r, in/s, n .9," + at, example_11_1, row.printed_1, r1, checks::relative(0.032));
    checks::expect("r, in/s, n .4," + at, example_11_1, row.printed_2, r2, checks::relative(0.032));
    checks::expect("r, in/s, n .9," + at, checks::closed_form, row.exact_1, r1, half_unit(1e-5));
    checks::expect("r, in/s, n .4," + at, checks::closed_form, row.exact_2, r2, half_unit(1e-5));
  }
}

TEST_CASE("Equilibrium pressure of one piece is a power of the area ratio") {
  // p = (a rho c* Kn)^(1/(1-n)), gas density neglected.
  BurnLaw law = one_piece(3 * mm_s, MPa, 0.35);
  for (auto [kn, megapascal] : {std::pair{224.490, 2.445010}, {252.041, 2.921633}}) {
    checks::expect("equilibrium pressure, MPa, Kn " + Catch::Detail::stringify(kn),
                   checks::closed_form, megapascal, law.pressure(1770 * 1500 * kn) / MPa,
                   checks::relative(5e-6));
  }
  for (double n : {-0.2, 0.0, 0.35, 0.9}) {
    BurnLaw any = one_piece(3 * mm_s, MPa, n);
    checks::expect("d ln p / d ln Kn, n " + Catch::Detail::stringify(n), checks::closed_form,
                   1 / (1 - n), std::log(any.pressure(2e9) / any.pressure(1e9)) / std::log(2),
                   checks::relative(1e-12));
  }
}

TEST_CASE("A textbook motor's burning area balances at its chamber pressure") {
  // r .10 in/s at 1000 psia, .056 lb/in3, c* 4000 ft/s: the book's K is 1439.
  constexpr double density = 0.056 * 0.45359237 / (in_s * in_s * in_s);
  BurnLaw law = one_piece(0.10 * in_s, 1000 * psi, 0.4);
  double kn = 1000 * psi / (0.10 * in_s) / (density * 4000 * 0.3048);
  checks::expect(
      "burning area / throat area",
      checks::from_memory("Sutton & Biblarz, Rocket Propulsion Elements, 7th ed., ex. 11-3"), 1439,
      kn, checks::relative(0.002));
  checks::expect("equilibrium pressure, psi", checks::closed_form, 1000,
                 law.pressure(density * 4000 * 0.3048 * kn) / psi, checks::relative(1e-12));
}

TEST_CASE("Published sugar-propellant laws give their burn rates") {
  struct Row {
    double megapascal, dextrose, sorbitol, sucrose;
  };
  for (const Row& row : {Row{1, 7.5530, 8.7630, 8.26},
                         {5, 11.6235, 9.2426, 13.802},
                         {6.895, 12.9248, 10.9764, 15.292}}) {
    double pressure = row.megapascal * MPa;
    checks::expect(at_MPa("r of KN/dextrose, mm/s,", row.megapascal), strand_report, row.dextrose,
                   dextrose().rate(pressure) / mm_s, half_unit(1e-4));
    checks::expect(at_MPa("r of KN/sorbitol, mm/s,", row.megapascal), strand_report, row.sorbitol,
                   sorbitol().rate(pressure) / mm_s, half_unit(1e-4));
    checks::expect(at_MPa("r of KN/sucrose, mm/s,", row.megapascal),
                   checks::from_memory("Nakka, KN/sucrose burn rate"), row.sucrose,
                   sucrose().rate(pressure) / mm_s, half_unit(1e-3));
  }
  CHECK(dextrose().rate(3 * MPa) / mm_s == Approx(8.1791).margin(5e-5));
  CHECK(sorbitol().rate(3 * MPa) / mm_s == Approx(7.7407).margin(5e-5));
}

TEST_CASE("Published laws need an area ratio for a pressure, and give the pressure back") {
  const std::string sugar_laws = "closed form, with burn laws from memory";
  struct Row {
    const char* name;
    BurnLaw law;
    double density, c_star;
    double kn[7];
  };
  constexpr double megapascal[] = {1, 2, 3, 4, 5, 6, 8};
  const Row rows[] = {
      {"KN/dextrose", dextrose(), 1879, 912, {77.3, 155.5, 214.0, 234.1, 251.0, 265.4, 369.2}},
      {"KN/sorbitol", sorbitol(), 1841, 909, {68.2, 153.6, 231.6, 291.4, 323.3, 351.9, 433.5}},
      {"KN/sucrose", sucrose(), 1889, 919, {69.7, 111.8, 147.4, 179.3, 208.7, 236.3, 287.4}},
  };
  for (const Row& row : rows) {
    for (std::size_t i = 0; i < std::size(megapascal); ++i) {
      double pressure = megapascal[i] * MPa;
      double load = pressure / row.law.rate(pressure);
      checks::expect(at_MPa(std::string("Kn of ") + row.name, megapascal[i]), sugar_laws, row.kn[i],
                     load / (row.density * row.c_star), checks::relative(1e-3));
      // Sorbitol at 4 MPa is past an upward jump, and the lower pressure of that load is in force.
      bool shadowed = &row == &rows[1] && megapascal[i] == 4;
      if (!shadowed) CHECK(row.law.pressure(load) == Approx(pressure).epsilon(1e-13));
      if (shadowed) CHECK(row.law.pressure(load) < 3.79 * MPa);
    }
  }
}

TEST_CASE("Published pieces meet as closely as their tables allow, and draw no warning") {
  struct Row {
    const char* name;
    BurnLaw law;
    std::array<double, 4> jump_percent;
  };
  for (const Row& row : {Row{"KN/dextrose", dextrose(), {-0.44, -1.81, 1.11, -1.87}},
                         {"KN/sorbitol", sorbitol(), {0.09, 1.24, 3.27, -1.39}}}) {
    for (std::size_t joint = 1; joint < row.law.pieces().size(); ++joint) {
      double jump = load_below(row.law, joint) / load_above(row.law, joint) - 1;
      checks::expect(
          std::string("jump of rate, %, ") + row.name + ", joint " + std::to_string(joint),
          strand_report, row.jump_percent[joint - 1], 100 * jump, half_unit(0.01));
    }
    CHECK(row.law.warnings().empty());
  }
}

TEST_CASE("At a joint the lower piece gives the rate") {
  BurnLaw law = jumping(1.2);
  CHECK(law.rate(2 * MPa) == law.pieces()[0](2 * MPa));
  CHECK(law.rate(std::nextafter(2 * MPa, infinity)) == Approx(1.2 * law.rate(2 * MPa)));
}

TEST_CASE("Outside its range a law goes on with its outermost pieces") {
  BurnLaw law = jumping(1.02);
  CHECK(law.lowest() == 0.1 * MPa);
  CHECK(law.highest() == 10 * MPa);
  for (double pressure : {0.01 * MPa, 50 * MPa}) {
    const LawPiece& outermost = pressure < MPa ? law.pieces()[0] : law.pieces()[1];
    CHECK(law.rate(pressure) == outermost(pressure));
    CHECK(law.pressure(pressure / law.rate(pressure)) == Approx(pressure).epsilon(1e-13));
  }
}

TEST_CASE("Where the rate jumps up two pressures balance, and the lower one is given") {
  BurnLaw law = jumping(1.1);
  double from = load_above(law, 1);  // the upper piece balances from here on,
  double to = load_below(law, 1);    // the lower one up to here
  REQUIRE(from < to);
  for (double part : {0.01, 0.5, 0.99}) {
    double load = from + part * (to - from);
    double pressure = law.pressure(load);
    CHECK(pressure < 2 * MPa);
    CHECK(pressure / law.pieces()[0](pressure) == Approx(load).epsilon(1e-13));
  }
  CHECK(law.pressure(std::nextafter(to, 0)) == Approx(2 * MPa).epsilon(1e-13));
  // Past the lower piece's reach the pressure leaps to the upper one.
  double leap = law.pressure(to * 1.000001);
  CHECK(leap > 2.1 * MPa);
  CHECK(leap / law.pieces()[1](leap) == Approx(to * 1.000001).epsilon(1e-13));
}

TEST_CASE("Where the rate jumps down no pressure balances, and the joint's is given") {
  BurnLaw law = jumping(0.9);
  double from = load_below(law, 1);
  double to = load_above(law, 1);
  REQUIRE(from < to);
  for (double part : {0.01, 0.5, 0.99}) CHECK(law.pressure(from + part * (to - from)) == 2 * MPa);
  CHECK(law.pressure(from * 0.999) < 2 * MPa);
  CHECK(law.pressure(to * 1.001) > 2 * MPa);
}

TEST_CASE("A piece that lies wholly in the shadow of a jump is never in force") {
  BurnLaw law = shadowing();
  CHECK(law.pressure(1.999e6 / (5 * mm_s)) == Approx(1.999 * MPa).epsilon(1e-13));
  CHECK(law.pressure(2.05e6 / (5 * mm_s)) == 2.1 * MPa);  // in the gap of the downward jump
  CHECK(law.pressure(2.2e6 / (5 * mm_s)) == Approx(2.2 * MPa).epsilon(1e-13));
}

TEST_CASE("Bands of load rise without gaps from nothing to infinity, each with its formula") {
  for (const BurnLaw& law :
       {dextrose(), sorbitol(), sucrose(), jumping(1.3), jumping(0.7), shadowing()}) {
    double reached = 0;
    for (const BurnLaw::Band& band : law.bands()) {
      CHECK(band.from == reached);
      CHECK(band.to > band.from);
      reached = band.to;
      double load = std::isinf(band.to) ? 2 * band.from + 1e8 : (band.from + band.to) / 2;
      double expected = band.joint_pressure > 0
                            ? band.joint_pressure
                            : band.scale * std::pow(load, 1 / (1 - band.exponent));
      CHECK(law.pressure(load) == Approx(expected).epsilon(1e-13));
    }
    CHECK(reached == infinity);
  }
}

TEST_CASE("The pressure given is the lowest that balances the load, for every law") {
  CHECK(rc::check("lowest balance", [] {
    std::vector<LawPiece> pieces;
    double from = 0.1;
    int count = *rc::gen::inRange(1, 6);
    for (int i = 0; i < count; ++i) {
      double to = from * (1 + *rc::gen::inRange(1, 300) / 100.0);
      pieces.push_back(piece(from, to, *rc::gen::inRange(100, 2000) / 100.0,
                             *rc::gen::inRange(-500, 950) / 1000.0));
      from = to;
    }
    BurnLaw law(pieces);
    double aim = *rc::gen::inRange(10, 30000) / 1000.0 * MPa;
    double load = aim / law.rate(aim);
    double pressure = law.pressure(load);
    RC_ASSERT(pressure <= aim * (1 + 1e-12));
    auto load_at = [&](double p) { return p / law.rate(p); };
    // Under it every pressure balances less; at it the load is met, or a joint stands there.
    for (int i = 1; i < 200; ++i) {
      RC_ASSERT(load_at(pressure * i / 200.0 * (1 - 1e-12)) < load * (1 + 1e-12));
    }
    // From either side: over a joint the rate may jump up, and the load that was met fall again.
    double reached = std::max(load_at(pressure * (1 - 1e-12)), load_at(pressure * (1 + 1e-12)));
    RC_ASSERT(reached > load * (1 - 1e-11));
  }));
}

TEST_CASE("Multiplying a law multiplies every rate and leaves its ranges") {
  BurnLaw law = dextrose();
  BurnLaw quick = law.times(1.07);
  for (double megapascal : {0.05, 0.5, 2.0, 4.0, 7.0, 10.0, 20.0}) {
    checks::expect(at_MPa("r of a batch 7 % quick / r", megapascal), checks::closed_form, 1.07,
                   quick.rate(megapascal * MPa) / law.rate(megapascal * MPa),
                   checks::relative(1e-13));
    double load = 4e8 * megapascal;
    CHECK(quick.pressure(load) == Approx(law.pressure(1.07 * load)).epsilon(1e-13));
  }
  CHECK(quick.lowest() == law.lowest());
  CHECK(quick.highest() == law.highest());
}

TEST_CASE("A joint where the rate jumps by more than a twentieth draws a warning") {
  CHECK(jumping(1.049).warnings().empty());
  CHECK(jumping(0.951).warnings().empty());
  for (double jump : {1.051, 0.949}) {
    auto warnings = jumping(jump).warnings();
    REQUIRE(warnings.size() == 1);
    CHECK_THAT(warnings[0], Catch::Contains("5.1") && Catch::Contains("2 MPa"));
  }
}

TEST_CASE("A law that no motor can burn by is refused, and the complaint names the value") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(complains_about({}, "law"));
  CHECK(complains_about({piece(0.1, 10, 5, 1)}, "n"));
  CHECK(complains_about({piece(0.1, 10, 5, 1.2)}, "n"));
  CHECK(complains_about({piece(0.1, 10, 5, nan)}, "n"));
  CHECK(complains_about({piece(0.1, 10, 0, 0.3)}, "rate"));
  CHECK(complains_about({piece(0.1, 10, -5, 0.3)}, "rate"));
  CHECK(complains_about({piece(0.1, 10, nan, 0.3)}, "rate"));
  CHECK(complains_about({piece(10, 0.1, 5, 0.3)}, "from"));
  CHECK(complains_about({piece(nan, 10, 5, 0.3)}, "from"));
  CHECK(complains_about({piece(0.1, nan, 5, 0.3)}, "from"));
  LawPiece nowhere = piece(0.1, 10, 5, 0.3);
  nowhere.at = 0;
  CHECK(complains_about({nowhere}, "at"));
}

TEST_CASE("Pieces of a law may neither leave a gap nor overlap, and must rise") {
  LawPiece low = piece(0.1, 2, 5, 0.3);
  CHECK(complaints({low, piece(2, 10, 5, 0.3)}).empty());
  CHECK(complains_about({low, piece(2.1, 10, 5, 0.3)}, "law 2: from"));
  CHECK(complains_about({low, piece(1.9, 10, 5, 0.3)}, "law 2: from"));
  CHECK(complains_about({piece(2, 10, 5, 0.3), low}, "law 2: from"));
  CHECK_THROWS_AS(BurnLaw({low, piece(2.1, 10, 5, 0.3)}), InputError);
  CHECK_THROWS_AS(BurnLaw(std::vector<LawPiece>{}), InputError);
}
