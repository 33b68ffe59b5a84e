// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/tube.hpp"

#include <rapidcheck.h>
#include <catch2/catch.hpp>
#include <cmath>

#include "grainwright/motor/casing.hpp"
#include "support/checks.hpp"

using namespace grainwright;

namespace {

constexpr double psi = 6894.757293168361;
constexpr double mpa = 1e6;
const std::string lame_form = "closed form, Lame (Roark's Formulas for Stress and Strain)";

Tube tube_of(const PipeSize& size) {
  return {size.outer_diameter, size.least_wall};
}

}  // namespace

TEST_CASE("Every standard pipe has the rating of the table, and the burst of its formula") {
  struct Row {
    std::string_view name;
    double rating_formula, rating_table, burst_formula, burst_table;
  };
  const Row rows[] = {
      {"3/4 sch 40", 482.39, 480, 1543.65, 1540},   {"3/4 sch 80", 687.50, 690, 2200.00, 2200},
      {"1 sch 40", 450.08, 450, 1440.27, 1440},     {"1 sch 80", 630.28, 630, 2016.90, 2020},
      {"1-1/4 sch 40", 368.42, 370, 1178.95, 1180}, {"1-1/4 sch 80", 520.08, 520, 1664.26, 1660},
      {"1-1/2 sch 40", 330.48, 330, 1057.55, 1060}, {"1-1/2 sch 80", 470.59, 470, 1505.88, 1510},
      {"2 sch 40", 277.35, 280, 887.53, 890},       {"2 sch 80", 404.27, 400, 1293.65, 1290},
      {"2-1/2 sch 40", 303.89, 300, 972.46, 970},   {"2-1/2 sch 80", 424.78, 420, 1359.29, 1360},
      {"3 sch 40", 263.09, 260, 841.90, 840},       {"3 sch 80", 375.00, 370, 1200.00, 1200},
      {"3-1/2 sch 40", 239.53, 240, 766.51, 770},   {"3-1/2 sch 80", 345.46, 350, 1105.49, 1110},
      {"4 sch 40", 222.38, 220, 711.61, 710},       {"4 sch 80", 323.80, 320, 1036.18, 1040},
  };
  for (const Row& row : rows) {
    const auto size = find_pipe(row.name);
    REQUIRE(size);
    const std::string name(row.name);
    const double rating = hoop_pressure(tube_of(*size), 2000 * psi) / psi;
    const double burst = hoop_pressure(tube_of(*size), 6400 * psi) / psi;
    checks::expect("rating of " + name + ", psi, unrounded", "closed form, P = 2 S t/(D - t)",
                   row.rating_formula, rating, checks::absolute(0.00501));
    checks::expect("burst of " + name + ", psi, unrounded", "closed form, P = 2 S t/(D - t)",
                   row.burst_formula, burst, checks::absolute(0.00501));
    // 3 sch 80 is a tie, 375.0, which the table rounds down: nearest within 5 psi, not by rounding.
    checks::expect("rating of " + name + ", psi", "ASTM D1785 (1988), table of ratings, to 10 psi",
                   row.rating_table, rating, checks::absolute(5.0001));
    checks::expect("burst of " + name + ", psi",
                   checks::from_memory("ASTM D1785, burst, to 10 psi"), row.burst_table, burst,
                   checks::absolute(5.0001));
  }
  const auto smaller = find_pipe("2 sch 40");
  const auto larger = find_pipe("2-1/2 sch 40");
  CHECK(hoop_pressure(tube_of(*larger), 1) > hoop_pressure(tube_of(*smaller), 1));
}

TEST_CASE("The models of a wall differ as they should on 2 in schedule 40 at 280 psi") {
  const Tube tube = tube_of(*find_pipe("2 sch 40"));
  const double ri = tube.inner_radius();
  const double ro = tube.outer_radius();
  const WallStress inside = lame(ri, ro, 280, 0, ri);
  const WallStress outside = lame(ri, ro, 280, 0, ro);
  checks::expect("mean-diameter hoop stress, psi", "closed form", 2019.09,
                 280 / hoop_pressure(tube, 1), checks::absolute(0.00501));
  checks::expect("hoop stress by the outside diameter, psi", "closed form, p D/(2 t)", 2159.09,
                 280 / hoop_pressure(tube, 1) + 140, checks::absolute(0.00501));
  checks::expect("hoop stress inside, psi", lame_form, 2028.80, inside.hoop,
                 checks::absolute(0.00501));
  checks::expect("hoop stress outside, psi", lame_form, 1748.80, outside.hoop,
                 checks::absolute(0.00501));
  checks::expect("axial stress, psi", lame_form, 874.40, inside.axial, checks::absolute(0.00501));
  // Force on a cut through the axis: the mean of the thick wall's hoop stress is p ri/t.
  checks::expect(
      "mean of the hoop stress over the wall, psi", "closed form, p ri/t", 1879.09,
      [&] {
        constexpr int n = 20000;
        double sum = 0;
        for (int i = 0; i < n; ++i) {
          sum += lame(ri, ro, 280, 0, ri + tube.wall * (i + 0.5) / n).hoop;
        }
        return sum / n;
      }(),
      checks::absolute(0.00501));
}

TEST_CASE("Lame's stresses are those of the worked problem") {
  const WallStress inside = lame(0.030, 0.050, 20 * mpa, 5 * mpa, 0.030);
  const WallStress outside = lame(0.030, 0.050, 20 * mpa, 5 * mpa, 0.050);
  const std::string problem = "a published problem on thick cylinders, 60/100 mm, 20 and 5 MPa";
  checks::expect("axial stress, MPa", problem, 3.44, inside.axial / mpa, checks::absolute(0.005));
  checks::expect("axial stress, MPa", lame_form, 3.4375, inside.axial / mpa,
                 checks::relative(1e-12));
  checks::expect("hoop inside, MPa", lame_form, 26.875, inside.hoop / mpa, checks::relative(1e-12));
  checks::expect("hoop outside, MPa", lame_form, 11.875, outside.hoop / mpa,
                 checks::relative(1e-12));
  checks::expect("radial inside, MPa", "closed form, -p", -20, inside.radial / mpa,
                 checks::relative(1e-12));
  checks::expect("radial outside, MPa", "closed form, -p", -5, outside.radial / mpa,
                 checks::relative(1e-12));
  checks::expect("von Mises inside, MPa", lame_form, 40.59494, inside.von_mises() / mpa,
                 checks::absolute(5.1e-6));
  checks::expect("Tresca inside, MPa", lame_form, 46.875, inside.tresca() / mpa,
                 checks::relative(1e-12));
}

TEST_CASE("Axial and hoop stress together") {
  const double p = 5;
  const double ri = 60.33 / 2 - 5.54;
  const double ro = 60.33 / 2;
  const double hoop = p * ri / 5.54;
  const WallStress thin{.hoop = hoop, .radial = 0, .axial = hoop / 2};
  const WallStress thin_with_radial{.hoop = hoop, .radial = -p, .axial = hoop / 2};
  checks::expect("thin-wall hoop, MPa", "closed form", 22.22473, hoop, checks::absolute(5.1e-6));
  checks::expect("thin-wall von Mises, MPa", "closed form", 19.24718, thin.von_mises(),
                 checks::absolute(5.1e-6));
  checks::expect("thin-wall von Mises over hoop", "closed form, sqrt(3)/2", 0.8660254,
                 thin.von_mises() / hoop, checks::absolute(5.1e-8));
  checks::expect("thin-wall von Mises with -p at the bore, MPa", "closed form", 23.70948,
                 thin_with_radial.von_mises(), checks::absolute(5.1e-6));
  const WallStress bore = lame(ri, ro, p, 0, ri);
  checks::expect("bore hoop, MPa", lame_form, 24.97751, bore.hoop, checks::absolute(5.1e-6));
  checks::expect("axial, MPa", lame_form, 9.98876, bore.axial, checks::absolute(5.1e-6));
  checks::expect("bore von Mises, MPa", lame_form, 25.96129, bore.von_mises(),
                 checks::absolute(5.1e-6));
  checks::expect("bore Tresca, MPa", lame_form, 29.97751, bore.tresca(), checks::absolute(5.1e-6));
}

TEST_CASE("A 6061 tube of 38.1 mm bore and 1.65 mm wall") {
  const Tube tube{38.1e-3 + 2 * 1.65e-3, 1.65e-3};
  const double yield = 241 * mpa;
  const double ultimate = 290 * mpa;
  checks::expect("bore yields at, MPa", lame_form + ", von Mises", 21.29790,
                 bore_yield_pressure(tube, yield) / mpa, checks::absolute(5.1e-6));
  checks::expect("whole wall yields at, MPa", "closed form, 2/sqrt(3) Y ln(ro/ri)", 23.11601,
                 wall_yield_pressure(tube, yield) / mpa, checks::absolute(5.1e-6));
  checks::expect("burst by Faupel, MPa", checks::from_memory("Faupel (1956)"), 27.02182,
                 faupel_pressure(tube, yield, ultimate) / mpa, checks::absolute(5.1e-6));
  checks::expect("burst by the mean diameter, MPa", "closed form", 24.07547,
                 hoop_pressure(tube, ultimate) / mpa, checks::absolute(5.1e-6));
  checks::expect("burst by the mean diameter over that by the bore radius",
                 "closed form, U t/ri = 25.11811 MPa", 24.07547 / 25.11811,
                 hoop_pressure(tube, ultimate) / (ultimate * tube.wall / tube.inner_radius()),
                 checks::relative(5e-7));
  CHECK(ductile_burst_pressure(tube, yield, ultimate) == hoop_pressure(tube, ultimate));
}

TEST_CASE("Bore yield is where Lame's von Mises stress reaches the yield, thin walls agree") {
  CHECK(rc::check("bore yield", [] {
    const double wall = *rc::gen::inRange(1, 200) * 1e-4;
    const double bore = *rc::gen::inRange(10, 200) * 1e-3;
    const Tube tube{bore + 2 * wall, wall};
    const double p = bore_yield_pressure(tube, 1);
    const WallStress stress =
        lame(tube.inner_radius(), tube.outer_radius(), p, 0, tube.inner_radius());
    RC_ASSERT(std::abs(stress.von_mises() - 1) < 1e-9);
    RC_ASSERT(wall_yield_pressure(tube, 1) > p);
  }));
  // Error of the thin wall falls in proportion to the wall.
  const auto off = [](double wall) {
    const Tube tube{0.05 + 2 * wall, wall};
    const double thin = 2 / std::sqrt(3.0) * wall / tube.inner_radius();
    return thin / bore_yield_pressure(tube, 1) - 1;
  };
  checks::expect("thin wall's error at a tenth of the wall, over that at the whole",
                 "closed form, limit", 0.1, off(1e-5) / off(1e-4), checks::relative(0.01));
}
