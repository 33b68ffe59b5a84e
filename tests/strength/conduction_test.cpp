// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/conduction.hpp"

#include <fmt/format.h>
#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include "grainwright/error.hpp"
#include "heat.hpp"
#include "support/checks.hpp"

using namespace grainwright;
using namespace heat;

namespace {

const std::string carslaw = "Carslaw & Jaeger, Conduction of Heat in Solids, ";
const std::string held_form = "closed form, " + carslaw + "2.4";
const std::string heated_form = "closed form, " + carslaw + "2.7";
const std::string wall_form = "closed form, " + carslaw + "3.11 (200 terms)";
const std::string two_layers =
    "closed form by Laplace transform, inverted numerically (Talbot) to 30 digits";

/// Temperature at a depth and time in a wall of slabs under steady gas, with the default cells.
double computed(const std::vector<Slab>& wall, double gas, double coefficient, double depth,
                double time, int steps = 800) {
  const HeatRun run = conduct(wall, GasSide::steady(gas, coefficient), even_times(time, steps), {});
  return run.temperature(static_cast<std::size_t>(steps), depth);
}

}  // namespace

TEST_CASE("A surface held hot warms a thick solid as the error function says") {
  // So large a coefficient holds the surface at the gas's temperature.
  const double held_by = 1e9;
  const std::vector<Slab> wall = {thick(pvc, 0.03)};
  struct Row {
    double depth, time, kelvin;
  };
  for (const Row& row : {Row{1e-3, 1, 338.2622}, {1e-3, 3, 526.4645}, {2e-3, 10, 487.7762}}) {
    const std::string what = fmt::format("PVC, surface held at 1200 K, {} mm deep after {} s, K",
                                         1e3 * row.depth, row.time);
    CHECK(held(pvc, 1200, row.depth, row.time) == Approx(row.kelvin).margin(6e-5));
    checks::expect(what, held_form, row.kelvin, computed(wall, 1200, held_by, row.depth, row.time),
                   checks::absolute(0.1));
  }
}

TEST_CASE("A surface held hot takes the flux of the closed form") {
  // q = k (Ts - Ti) / sqrt(pi a t), whose integral from 0 is 2 q t: what the wall has gained.
  const std::vector<Slab> wall = {thick(pvc, 0.03)};
  for (const auto& [time, flux] : {std::pair{1., 227156.86}, {3., 131149.08}, {10., 71833.31}}) {
    const HeatRun run = conduct(wall, GasSide::steady(1200, 1e9), even_times(time, 800), {});
    const double warmed = run.mean(800, 0, 0.03, [](double kelvin) { return kelvin - t0; });
    const double gained = pvc.density * pvc.specific_heat * 0.03 * warmed;
    checks::expect(fmt::format("PVC, surface held at 1200 K: flux after {} s, W/m2", time),
                   held_form, flux, gained / (2 * time), checks::relative(1e-3));
  }
}

TEST_CASE("A buried main freezes at the depth of the textbook example") {
  const Slab soil{.thickness = 8,
                  .conductivity = 0.52,
                  .density = 2050,
                  .specific_heat = 0.52 / 2050 / 0.138e-6};
  const std::vector<Slab> wall = {[&] {
    Slab s = soil;
    s.start = 293.15;
    return s;
  }()};
  const double days = 60 * 86400.0;
  const HeatRun run = conduct(wall, GasSide::steady(258.15, 1e6), even_times(days, 800),
                              {.first_cell = 2e-3, .longest_step = days});
  double shallow = 0;
  double deep = 2;
  while (deep - shallow > 1e-9) {
    const double middle = (shallow + deep) / 2;
    (run.temperature(800, middle) < 273.15 ? shallow : deep) = middle;
  }
  checks::expect("soil at 20 C, surface at -15 C for 60 days: depth of 0 C, m",
                 checks::from_memory("Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, "
                                     "example 5.6"),
                 0.68, shallow, checks::absolute(0.005));
  checks::expect("the same depth, m", held_form, 0.676962, shallow, checks::absolute(2e-4));
}

TEST_CASE("Gas warms a thick solid as the closed form says") {
  struct Row {
    std::string name;
    Slab of;
    double coefficient, time, surface, one, three;
  };
  const Row rows[] = {
      {"mortar", mortar, 500, 1, 788.1042, 406.3627, 293.7104},
      {"mortar", mortar, 2000, 3, 1390.9054, 869.0217, 366.0166},
      {"PVC", pvc, 500, 3, 1259.2038, 496.2186, 293.5226},
      {"PVC", pvc, 2000, 1, 1440.0899, 340.1587, 293.1500},
      {"steel", steel, 2000, 3, 578.5791, 547.6557, 492.2023},
  };
  for (const Row& row : rows) {
    const std::vector<Slab> wall = {thick(row.of, row.name == "steel" ? 0.3 : 0.04)};
    const auto check = [&](double depth, double kelvin) {
      CHECK(heated(row.of, 1600, row.coefficient, depth, row.time) == Approx(kelvin).margin(6e-5));
      checks::expect(fmt::format("{} in gas of 1600 K, {} W/m2K, {} mm deep after {} s, K",
                                 row.name, row.coefficient, 1e3 * depth, row.time),
                     heated_form, kelvin, computed(wall, 1600, row.coefficient, depth, row.time),
                     checks::absolute(0.1));
    };
    check(0, row.surface);
    check(1e-3, row.one);
    check(3e-3, row.three);
  }
  checks::expect("PVC in gas of 1600 K, 20000 W/m2K, 1 mm deep after 10 s, K", heated_form,
                 987.9792, computed({thick(pvc, 0.04)}, 1600, 20000, 1e-3, 10),
                 checks::absolute(0.1));
}

TEST_CASE("A constant flux warms a thick solid as the closed form says") {
  // Gas so hot and so thin that the wall's own temperature does not matter.
  const std::vector<Slab> wall = {thick(mortar, 0.05)};
  struct Row {
    double depth, rise;
  };
  for (const Row& row : {Row{0, 956.1272}, {1e-3, 417.8858}, {3e-3, 39.8775}}) {
    checks::expect(
        fmt::format("mortar under 5e5 W/m2, rise at {} mm after 3 s, K", 1e3 * row.depth),
        "closed form, " + carslaw + "2.9", row.rise, computed(wall, 5e11, 1e-6, row.depth, 3) - t0,
        checks::absolute(0.1));
  }
}

TEST_CASE("Two bodies in contact share the temperature between them") {
  Slab hot = thick(mortar, 0.02);
  hot.start = 600;
  const std::vector<Slab> wall = {hot, thick(pvc, 0.02)};
  const HeatRun run = conduct(wall, GasSide::steady(600, 0), even_times(2, 400), {});
  checks::expect("mortar of 600 K on PVC of 293.15 K, contact, K",
                 "closed form, " + carslaw + "2.15", 507.0714, run.temperature(400, 0.02),
                 checks::absolute(0.1));
  const auto effusivity = [](const Slab& of) {
    return std::sqrt(of.conductivity * of.density * of.specific_heat);
  };
  checks::expect("effusivity of mortar, SI", "closed form, sqrt(k rho cp)", 1022.045,
                 effusivity(mortar), checks::absolute(5.1e-4));
  checks::expect("effusivity of PVC, SI", "closed form, sqrt(k rho cp)", 443.982, effusivity(pvc),
                 checks::absolute(5.1e-4));
}

TEST_CASE("The roots of the plane wall are the printed ones") {
  const std::string table = carslaw + "appendix IV (from memory, 4 digits)";
  const std::vector<std::pair<double, std::vector<double>>> rows = {
      {0.1, {0.311053, 3.173097, 6.299059, 9.435376, 12.574323, 15.714327}},
      {1, {0.860334, 3.425618, 6.437298, 9.529334, 12.645287, 15.771285}},
      {10, {1.428870, 4.305801, 7.228110, 10.200263, 13.214186, 16.259361}}};
  for (const auto& [biot, roots] : rows) {
    for (int n = 0; n < 6; ++n) {
      checks::expect(fmt::format("z tan z = {}, root {}", biot, n + 1), table,
                     roots[static_cast<std::size_t>(n)], wall_root(biot, n),
                     checks::absolute(5.1e-7));
    }
  }
}

TEST_CASE("A slab insulated behind warms as the plane wall's series says") {
  struct Row {
    double biot, fourier, back, front, gained;
  };
  const Row rows[] = {
      {0.1, 0.05, 0.9999733, 0.9752604, 0.0049171}, {0.1, 0.2, 0.9939985, 0.9514199, 0.0193465},
      {0.1, 0.5, 0.9679807, 0.9217789, 0.0474260},  {0.1, 1, 0.9223886, 0.8781265, 0.0924129},
      {1, 0.05, 0.9997510, 0.7903768, 0.0426900},   {1, 0.2, 0.9506418, 0.6433908, 0.1484045},
      {1, 0.5, 0.7725264, 0.5045219, 0.3188955},    {1, 1, 0.5338594, 0.3481769, 0.5296028},
      {10, 0.05, 0.9985296, 0.2323263, 0.1755459},  {10, 0.2, 0.8292547, 0.1224822, 0.4167380},
      {10, 0.5, 0.4546406, 0.0643290, 0.6849837},   {10, 1, 0.1638176, 0.0231721, 0.8865044}};
  const double thickness = 5e-3;
  for (const Row& row : rows) {
    const double coefficient = row.biot * pvc.conductivity / thickness;
    const double time = row.fourier * thickness * thickness / diffusivity(pvc);
    const std::vector<Slab> wall = {thick(pvc, thickness)};
    const HeatRun run =
        conduct(wall, GasSide::steady(1600, coefficient), even_times(time, 400), {});
    const auto theta = [](double kelvin) { return (kelvin - 1600) / (t0 - 1600); };
    const std::string at = fmt::format(" at Bi {}, Fo {}", row.biot, row.fourier);
    CHECK(slab_theta(row.biot, row.fourier, 0) == Approx(row.back).margin(6e-8));
    checks::expect("theta at the insulated face" + at, wall_form, row.back, theta(run.back(400)),
                   checks::absolute(1e-4));
    checks::expect("theta at the heated face" + at, wall_form, row.front, theta(run.front(400)),
                   checks::absolute(1e-4));
    checks::expect("heat gained, share of the most" + at, wall_form, row.gained,
                   1 - run.mean(400, 0, thickness, theta), checks::absolute(1e-4));
  }
}

TEST_CASE("The first root and constant of the plane wall are the textbooks'") {
  struct Row {
    double biot, root, constant;
  };
  for (const Row& row : {Row{0.1, 0.3111, 1.0161},
                         {0.5, 0.6533, 1.0701},
                         {1, 0.8603, 1.1191},
                         {2, 1.0769, 1.1785},
                         {10, 1.4289, 1.2620}}) {
    const std::string cengel = "Cengel, Heat Transfer, table 4-2";
    const double z = wall_root(row.biot, 0);
    checks::expect(fmt::format("first root at Bi {}", row.biot), cengel, row.root, z,
                   checks::absolute(5.1e-5));
    checks::expect(fmt::format("first constant at Bi {}", row.biot), cengel, row.constant,
                   4 * std::sin(z) / (2 * z + std::sin(2 * z)), checks::absolute(5.1e-5));
  }
}

TEST_CASE("One term of the series alone is some percent off early, as the exact wall shows") {
  for (const auto& [biot, one_term, percent] :
       {std::tuple{0.1, .996621, .3}, {1., .965141, 1.5}, {10., .838898, 1.2}}) {
    const double z = wall_root(biot, 0);
    const double constant = 4 * std::sin(z) / (2 * z + std::sin(2 * z));
    const double alone = constant * std::exp(-0.2 * z * z);
    const std::string at = fmt::format(" at Bi {}, Fo 0.2", biot);
    checks::expect("one term of the series at the insulated face" + at,
                   "closed form, " + carslaw + "3.11 (1 term)", one_term, alone,
                   checks::absolute(6e-7));
    checks::expect("one term over the whole series" + at + ", % high", wall_form, percent,
                   100 * (alone / slab_theta(biot, 0.2, 0) - 1), checks::absolute(0.051));
  }
}

TEST_CASE("Two layers under gas, insulated behind, agree with the exact transform") {
  struct Row {
    double time, front, border, back;
  };
  const auto check = [](const std::string& name, const std::vector<Slab>& wall, double coefficient,
                        const std::vector<Row>& rows) {
    const double total = wall[0].thickness + wall[1].thickness;
    for (const Row& row : rows) {
      const std::string at = fmt::format(", after {} s, K", row.time);
      const HeatRun run =
          conduct(wall, GasSide::steady(1600, coefficient), even_times(row.time, 600), {});
      checks::expect(name + ", front" + at, two_layers, row.front, run.front(600),
                     checks::absolute(0.1));
      checks::expect(name + ", between" + at, two_layers, row.border,
                     run.temperature(600, wall[0].thickness), checks::absolute(0.1));
      if (row.back > 0) {
        checks::expect(name + ", back" + at, two_layers, row.back, run.temperature(600, total),
                       checks::absolute(0.1));
      }
    }
  };
  check("6 mm of mortar on 5 mm of PVC", {thick(mortar, 6e-3), thick(pvc, 5e-3)}, 1500,
        {{3, 1328.5352, 293.5958, 293.1500},
         {5, 1384.5665, 300.8615, 0},
         {10, 1444.6257, 369.1133, 293.1511},
         {30, 1513.4255, 724.3438, 304.0465},
         {60, 1547.9063, 1017.9537, 422.3435}});
  check("2 mm of paper on 3.9 mm of PVC", {thick(paper, 2e-3), thick(pvc, 3.9e-3)}, 500,
        {{1, 1060.4909, 293.2211, 0},
         {2, 1178.2307, 297.7877, 0},
         {3, 1240.5893, 314.1717, 0},
         {5, 1310.3207, 370.8318, 293.1504},
         {10, 1388.3256, 527.0903, 293.6236},
         {30, 1476.6644, 867.9277, 371.1686}});
}

TEST_CASE("Heat goes on soaking in when the gas has gone") {
  struct Row {
    std::string name;
    std::vector<Slab> wall;
    double coefficient, at_burnout, peak, peak_at, end;
  };
  const Row rows[] = {{"mortar on PVC",
                       {thick(mortar, 6e-3), thick(pvc, 5e-3)},
                       1500,
                       293.1505,
                       386.141,
                       39.85,
                       60},
                      {"paper on PVC",
                       {thick(paper, 2e-3), thick(pvc, 3.9e-3)},
                       500,
                       294.2537,
                       389.312,
                       14.60,
                       30}};
  for (const Row& row : rows) {
    const GasSide gas{1600, {{0, row.coefficient}, {1.5, row.coefficient}, {1.5, 0}}};
    std::vector<double> times = even_times(1.5, 300);
    for (int i = 1; i <= 2000; ++i) times.push_back(1.5 + (row.end - 1.5) * i / 2000);
    const HeatRun run = conduct(row.wall, gas, times, {});
    const double border = row.wall[0].thickness;
    std::size_t hottest = 0;
    for (std::size_t i = 0; i < times.size(); ++i) {
      if (run.temperature(i, border) > run.temperature(hottest, border)) hottest = i;
    }
    const std::string source = "closed form by Laplace transform, and extrapolated finite volumes";
    checks::expect(row.name + ", 1.5 s of gas: border at burnout, K", source, row.at_burnout,
                   run.temperature(300, border), checks::absolute(0.02));
    checks::expect(row.name + ", 1.5 s of gas: hottest the border gets, K", source, row.peak,
                   run.temperature(hottest, border), checks::absolute(0.1));
    checks::expect(row.name + ", 1.5 s of gas: when, s", source, row.peak_at, times[hottest],
                   checks::absolute(0.15));
  }
}

TEST_CASE("Halving cells and steps quarters the error") {
  const std::vector<Slab> wall = {thick(pvc, 5e-3)};
  const double coefficient = 10 * pvc.conductivity / 5e-3;
  const double time = 0.2 * 25e-6 / diffusivity(pvc);
  const double exact = 1600 + (t0 - 1600) * slab_theta(10, 0.2, 0.5);
  const auto error = [&](int n) {
    const HeatRun run = conduct(wall, GasSide::steady(1600, coefficient), even_times(time, n),
                                {.first_cell = 5e-3 / n, .growth = 1, .longest_step = time});
    return run.temperature(static_cast<std::size_t>(n), 2.5e-3) - exact;
  };
  for (int n : {40, 80, 160}) {
    checks::expect(fmt::format("order of convergence from {} to {} cells and steps", n, 2 * n),
                   "closed form, second order", 2, std::log2(error(n) / error(2 * n)),
                   checks::absolute(0.1));
  }
}

TEST_CASE("Growing cells change little, and a jump of the gas does not ring") {
  const std::vector<Slab> wall = {thick(pvc, 5e-3)};
  const auto run_with = [&](const ConductionOptions& options) {
    return conduct(wall, GasSide::steady(1600, 2000), even_times(2, 100), options);
  };
  const HeatRun fine = run_with({.first_cell = 5e-6, .growth = 1});
  const HeatRun graded = run_with({});
  double last = t0;
  for (std::size_t i = 1; i <= 100; ++i) {
    CHECK(graded.front(i) > last);
    last = graded.front(i);
    CHECK(graded.temperature(i, 1e-3) == Approx(fine.temperature(i, 1e-3)).margin(0.1));
  }
}

TEST_CASE("A wall stays between its coldest and the gas, and only warms") {
  CHECK(rc::check("bounds and order", [] {
    const double thickness = *rc::gen::inRange(1, 20) * 1e-3;
    const double coefficient = *rc::gen::inRange(1, 20000);
    const double gas = *rc::gen::inRange(400, 3000);
    const std::vector<Slab> wall = {thick(mortar, thickness), thick(pvc, 4e-3)};
    const HeatRun run = conduct(wall, GasSide::steady(gas, coefficient), even_times(3, 60), {});
    for (std::size_t i = 1; i <= 60; ++i) {
      for (double depth : {0.0, thickness / 2, thickness, thickness + 2e-3}) {
        const double kelvin = run.temperature(i, depth);
        RC_ASSERT(kelvin > t0 - 1e-9);
        RC_ASSERT(kelvin < gas);
        RC_ASSERT(kelvin >= run.temperature(i - 1, depth) - 1e-9);
      }
      RC_ASSERT(run.front(i) >= run.back(i));
    }
  }));
}

TEST_CASE("Heat is kept: what the gas gives is what the wall has") {
  // Insulated on both sides from 1 s on, the mean no longer changes.
  const GasSide gas{1600, {{0, 1500}, {1, 1500}, {1, 0}}};
  const std::vector<Slab> wall = {thick(mortar, 3e-3), thick(pvc, 3e-3)};
  const std::vector<double> times = {0, 0.5, 1, 2, 5, 20, 400};
  const HeatRun run = conduct(wall, gas, times, {.steps_between = 40, .longest_step = 400});
  const auto content = [&](std::size_t i) {
    const auto itself = [](double kelvin) { return kelvin; };
    return mortar.density * mortar.specific_heat * run.mean(i, 0, 3e-3, itself) +
           pvc.density * pvc.specific_heat * run.mean(i, 3e-3, 6e-3, itself);
  };
  for (std::size_t i = 3; i < times.size(); ++i)
    CHECK(content(i) == Approx(content(2)).epsilon(1e-9));
  CHECK(run.front(6) == Approx(run.back(6)).margin(0.01));
}

TEST_CASE("A gas side is read between its points") {
  const GasSide gas{1000, {{1, 100}, {2, 300}, {2, 50}}};
  CHECK(gas.after(0) == 100);
  CHECK(gas.before(1.5) == 200);
  CHECK(gas.before(2) == 300);
  CHECK(gas.after(2) == 50);
  CHECK(gas.before(9) == 50);
}

TEST_CASE("Walls and times that cannot be are refused") {
  const GasSide gas = GasSide::steady(1600, 500);
  const std::vector<double> times = {0, 1};
  const auto refuses = [&](std::vector<Slab> wall, std::vector<double> when) {
    CHECK_THROWS_AS(conduct(wall, gas, when, {}), InputError);
  };
  refuses({}, times);
  refuses({thick(pvc, -1e-3)}, times);
  refuses({Slab{.thickness = 1e-3}}, times);
  refuses({thick(pvc, 1e-3)}, {});
  refuses({thick(pvc, 1e-3)}, {1, 0});
}
