// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <catch2/catch.hpp>
#include <cmath>

#include "job_text.hpp"
#include "support/checks.hpp"

namespace gw = grainwright;

namespace {

constexpr double psi = 6894.757293168361;

gw::Material shipped(const std::string& name) {
  const auto material = gw::shipped_material(name);
  REQUIRE(material);
  return *material;
}

double fahrenheit(double degrees) {
  return (degrees + 459.67) / 1.8;
}

}  // namespace

TEST_CASE("The derating of PVC and CPVC pipe is the published one") {
  const gw::Material pvc = shipped("pvc-1120");
  const gw::Material cpvc = shipped("cpvc-4120");
  const std::string table = "published temperature derating of PVC and CPVC pipe";
  const std::vector<std::pair<double, double>> of_pvc = {
      {73, 1}, {80, .88}, {90, .75}, {100, .62}, {110, .51}, {120, .40}, {130, .31}, {140, .22}};
  for (const auto& [degrees, share] : of_pvc) {
    checks::expect(fmt::format("strength of PVC at {} F, share", degrees), table, share,
                   pvc.strength_share(fahrenheit(degrees)), checks::absolute(1e-9));
  }
  const std::vector<std::pair<double, double>> of_cpvc = {
      {73, 1},    {80, 1},    {90, .91},  {100, .82}, {110, .72}, {120, .65}, {130, .57},
      {140, .50}, {150, .42}, {160, .40}, {170, .29}, {180, .25}, {200, .20}};
  for (const auto& [degrees, share] : of_cpvc) {
    checks::expect(fmt::format("strength of CPVC at {} F, share", degrees), table, share,
                   cpvc.strength_share(fahrenheit(degrees)), checks::absolute(1e-9));
  }
  CHECK(pvc.strength_share(fahrenheit(141)) == 0);
  // The published worked examples.
  checks::expect("230 psi of PVC at 120 F, psi", table, 92,
                 230 * pvc.strength_share(fahrenheit(120)), checks::absolute(1e-6));
  checks::expect("230 psi of CPVC, 10 in schedule 80, at 120 F, psi", table, 149.5,
                 230 * cpvc.strength_share(fahrenheit(120)), checks::absolute(1e-6));
  checks::expect("280 psi of PVC, 2 in schedule 40, at 120 F, psi", table, 112,
                 280 * pvc.strength_share(fahrenheit(120)), checks::absolute(1e-6));
  checks::expect("400 psi of CPVC, 2 in schedule 80, at 180 F, psi", table, 100,
                 400 * cpvc.strength_share(fahrenheit(180)), checks::absolute(1e-6));
  checks::expect("330 psi of CPVC, 1-1/2 in schedule 40, at 140 F, psi", table, 165,
                 330 * cpvc.strength_share(fahrenheit(140)), checks::absolute(1e-6));
}

TEST_CASE("CPVC pipe has PVC pipe's ratings") {
  const gw::Material cpvc = shipped("cpvc-4120");
  const std::string f441 = "ASTM F441, published table of ratings";
  const std::vector<std::pair<std::string, double>> rows = {
      {"1-1/2 sch 40", 330}, {"1-1/2 sch 80", 470}, {"2 sch 40", 280},
      {"2 sch 80", 400},     {"3 sch 40", 260},     {"3 sch 80", 370}};
  for (const auto& [name, rating] : rows) {
    const auto pipe = gw::find_pipe(name);
    checks::expect(
        "rating of CPVC " + name + ", psi", f441, rating,
        gw::hoop_pressure({pipe->outer_diameter, pipe->least_wall}, cpvc.rating_stress) / psi,
        checks::absolute(5.0001));
  }
}

TEST_CASE("Solvent cement has what the standard asks by cure time") {
  const gw::Material cement = shipped("pvc-solvent-cement");
  const std::string d2564 = checks::from_memory("ASTM D2564, minimum lap shear");
  checks::expect("lap shear after 2 h, psi", d2564, 250, cement.lap_shear(2 * 3600.0) / psi,
                 checks::absolute(0.01));
  checks::expect("lap shear after 16 h, psi", d2564, 500, cement.lap_shear(16 * 3600.0) / psi,
                 checks::absolute(0.01));
  checks::expect("lap shear after 72 h, psi", d2564, 900, cement.lap_shear(72 * 3600.0) / psi,
                 checks::absolute(0.01));
  checks::expect("lap shear after 72 h, MPa", d2564, 6.205, cement.lap_shear(72 * 3600.0) / 1e6,
                 checks::absolute(5.1e-4));
  CHECK(cement.lap_shear(3600) == 0);
}

TEST_CASE("Diffusivities and effusivities are those of the shipped properties") {
  const std::string form = "closed form, k/(rho cp)";
  checks::expect("PVC, m2/s", form, 1.2987e-7, shipped("pvc-1120").diffusivity(),
                 checks::relative(1e-4));
  checks::expect("CPVC, m2/s", form, 6.33e-8, shipped("cpvc-4120").diffusivity(),
                 checks::relative(1e-3));
  checks::expect("cement mortar, m2/s", form, 4.963e-7, shipped("cement-mortar").diffusivity(),
                 checks::relative(1e-4));
  checks::expect("gypsum plaster, m2/s", form, 1.207e-7, shipped("gypsum-plaster").diffusivity(),
                 checks::relative(1e-3));
  checks::expect("paper, m2/s", form, 1.444e-7, shipped("paper").diffusivity(),
                 checks::relative(1e-3));
  checks::expect("mild steel, m2/s", form, 1.472e-5, shipped("mild-steel").diffusivity(),
                 checks::relative(1e-3));
  checks::expect("6061, m2/s", form, 6.903e-5, shipped("aluminium-6061-t6").diffusivity(),
                 checks::relative(1e-3));
}

TEST_CASE("Heat goes as deep into PVC as its diffusivity says") {
  const double diffusivity = shipped("pvc-1120").diffusivity();
  for (const auto& [time, millimetres] : {std::pair{1., .3604}, {3., .6242}}) {
    checks::expect(fmt::format("sqrt(a t) in PVC after {} s, mm", time), "closed form", millimetres,
                   1e3 * std::sqrt(diffusivity * time), checks::absolute(5.1e-5));
  }
}

TEST_CASE("Typical properties of PVC and 6061 are those of the sheets") {
  const std::string sheet = "published properties of ";
  const gw::Material pvc = shipped("pvc-1120");
  const gw::Material aluminium = shipped("aluminium-6061-t6");
  checks::expect("PVC, conductivity, W/m-K", sheet + "rigid PVC", 0.16, pvc.conductivity,
                 checks::relative(1e-12));
  checks::expect("PVC, density, kg/m3", sheet + "rigid PVC", 1400, pvc.density,
                 checks::relative(1e-12));
  checks::expect("PVC, specific heat, J/kg-K", sheet + "rigid PVC", 880, pvc.specific_heat,
                 checks::relative(1e-12));
  checks::expect("pipe compound 12454, tensile, psi", sheet + "pipe compound 12454", 7450,
                 pvc.ultimate / psi, checks::relative(1e-9));
  checks::expect("pipe compound 12454, compressive, psi", sheet + "pipe compound 12454", 9600,
                 pvc.bearing / psi, checks::relative(1e-9));
  checks::expect("6061-T6, shear, MPa", sheet + "6061-T6, typical", 207, aluminium.shear / 1e6,
                 checks::relative(1e-12));
  checks::expect("6061-T6, bearing yield, MPa", sheet + "6061-T6, typical", 386,
                 aluminium.bearing / 1e6, checks::relative(1e-12));
  checks::expect("6061-T6, conductivity, W/m-K", sheet + "6061-T6, typical", 167,
                 aluminium.conductivity, checks::relative(1e-12));
  checks::expect("6061-T6, density, kg/m3", sheet + "6061-T6, typical", 2700, aluminium.density,
                 checks::relative(1e-12));
  checks::expect("6061-T6, specific heat, J/kg-K", sheet + "6061-T6, typical", 896,
                 aluminium.specific_heat, checks::relative(1e-12));
}

TEST_CASE("Minimum strengths are those of the sheets") {
  const double mpa = 1e6;
  checks::expect("6061-T6 extrusion yield, ksi", "published minimum for 6061-T6 extrusions", 35,
                 shipped("aluminium-6061-t6").yield / psi / 1e3, checks::absolute(1e-9));
  checks::expect("6061-T6 extrusion tensile, ksi", "published minimum for 6061-T6 extrusions", 38,
                 shipped("aluminium-6061-t6").ultimate / psi / 1e3, checks::absolute(1e-9));
  checks::expect("DOM 1020 yield, MPa", "ASTM A513 type 5, published minimum", 413.7,
                 shipped("steel-dom-1020").yield / mpa, checks::absolute(0.051));
  checks::expect("DOM 1020 tensile, MPa", "ASTM A513 type 5, published minimum", 482.6,
                 shipped("steel-dom-1020").ultimate / mpa, checks::absolute(0.051));
  checks::expect("grade 2 tensile, ksi", "SAE J429 (Shigley & Mischke, 1989)", 74,
                 shipped("steel-grade-2").ultimate / psi / 1e3, checks::absolute(1e-9));
  checks::expect("grade 5 tensile, ksi", "SAE J429 (Shigley & Mischke, 1989)", 120,
                 shipped("steel-grade-5").ultimate / psi / 1e3, checks::absolute(1e-9));
  checks::expect("A2-70 tensile, MPa", "ISO 3506, published minimum", 700,
                 shipped("stainless-a2-70").ultimate / mpa, checks::absolute(1e-9));
}

TEST_CASE("An own material stands over the one it is like") {
  const std::string job = R"([casing]
pipe = "2 sch 40"
grain_room = "200 mm"
material = "mine"
[[material]]
name = "mine"
source = "burst with water"
like = "pvc-1120"
burst_stress = "40 MPa"
)";
  const gw::Job read = gw::parse_job(job, "job");
  CHECK(read.shell->material.burst_stress == Approx(40e6));
  CHECK(read.shell->material.conductivity == shipped("pvc-1120").conductivity);
  const auto refused = [&](const std::string& from, const std::string& to,
                           const std::string& words) {
    const auto lines = job_text::complaints_of(job_text::changed(job, from, to));
    REQUIRE_FALSE(lines.empty());
    CHECK_THAT(lines.front(), Catch::Contains(words));
  };
  refused("source = \"burst with water\"\n", "", "material 1: source: missing");
  refused("like = \"pvc-1120\"", "like = \"pvc\"", "material 1: like: \"pvc\"");
  refused("burst_stress = \"40 MPa\"", "strength_at = [[\"20 degC\", 2]]",
          "material 1: strength_at");
  refused("burst_stress = \"40 MPa\"", "strength_at = [\"20 degC\"]", "a list such as");
  refused("burst_stress = \"40 MPa\"", "cure = [[\"2 h\", \"3 mm\"]]", "material 1: cure");
  refused("material = \"mine\"", "material = \"mien\"", "did you mean \"mine\"?");
}

TEST_CASE("The page names every shipped material") {
  for (const std::string& name : gw::shipped_materials()) {
    CHECK_THAT(job_text::page(), Catch::Contains("`" + name + "`"));
  }
}
