// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the schema says must be what the reader does.
#include <catch2/catch.hpp>
#include <set>
#include <sstream>

#include "job_text.hpp"

namespace gw = grainwright;
using job_text::described;

namespace {

/// A job with every table and no key that could be left out, so that each can be put in.
const std::string least = R"([job]
[casing]
pipe = "2 sch 40"
grain_room = "1 m"
material = "pvc-1120"
[propellant]
name = "batch 12"
density = "1.8 g/cm3"
characteristic_velocity = "905 m/s"
gamma = 1.14
[[propellant.law]]
rate = "8 mm/s"
n = 0.4
[propellant.erosion]
alpha = 2e-5
[propellant.measured]
rate_error = 0.02
[propellant.web_factor]
[nozzle]
throat = "10 mm"
[[segment]]
length = "80 mm"
core = "12 mm"
[[segment.slot]]
at = "40 mm"
width = "3 mm"
depth = "5 mm"
[[segment]]
length = "80 mm"
[[segment.core.round]]
diameter = "12 mm"
x = "2 mm"
y = "1 mm"
[closure.head]
joint = "bonded"
material = "pvc-1120"
thickness = "30 mm"
bond = "pvc-solvent-cement"
bond_length = "20 mm"
cure_time = "3 h"
[[material]]
name = "mine"
source = "mine"
[heat]
[day]
[firing]
[limits]
[shop]
mandrels = ["12 mm"]
throats = ["10 mm"]
[wish]
[airframe]
mass = "2 kg"
motor_hardware = "500 g"
diameter = "60 mm"
drag_coefficient = 0.5
rail_length = "1.8 m"
[tolerance]
[[fault]]
kind = "face blocked"
face = "head"
)";

struct Split {
  std::string header;
  std::string name;
};

Split split(std::string_view path) {
  const std::size_t dot = path.rfind('.');
  std::string table(path.substr(0, dot));
  // Inside a list of tables a table is headed without the list's brackets.
  for (auto inner = table.find("[]."); inner != std::string::npos; inner = table.find("[]."))
    table.erase(inner, 2);
  const std::string name(path.substr(dot + 1));
  if (table.ends_with("[]")) return {"[[" + table.substr(0, table.size() - 2) + "]]\n", name};
  return {"[" + table + "]\n", name};
}

bool is_value(std::string_view standing) {
  return std::string_view("\"[0123456789").find(standing.front()) != std::string_view::npos;
}

std::string without_key(const std::string& text, const std::string& header,
                        const std::string& name) {
  std::istringstream lines(text);
  std::string line;
  std::string table;
  std::string result;
  while (std::getline(lines, line)) {
    line += '\n';
    if (line.starts_with('[')) table = line;
    if (table != header || !line.starts_with(name + " =")) result += line;
  }
  return result;
}

}  // namespace

TEST_CASE("A default is what the schema says it is") {
  const std::string plain = described(gw::parse_job(least, ""));
  int count = 0;
  for (const gw::JobKey& key : gw::job_keys()) {
    if (!is_value(key.standing)) continue;
    const auto [header, name] = split(key.path);
    const std::string line = name + " = " + std::string(key.standing) + "\n";
    INFO(header << line);
    const std::string text = job_text::changed(least, header, header + line);
    CHECK(described(gw::parse_job(text, "")) == plain);
    ++count;
  }
  CHECK(count > 20);
}

TEST_CASE("A default in words is what the schema says it is") {
  const gw::Job job = gw::parse_job(least, "");
  CHECK(job.propellant->density_ratio == 1);
  CHECK(job.propellant->expansion_gamma == job.propellant->gamma);
  CHECK(job.propellant->temperature_sensitivity == 0);
  CHECK(job.propellant->reference_temperature == 293.15);
  CHECK(job.nozzle->exit_diameter == job.nozzle->throat_diameter);
  CHECK(job.casing->bore == gw::find_pipe("2 sch 40")->average_bore());
  CHECK(job.casing->wall == gw::find_pipe("2 sch 40")->least_wall);
  CHECK(job.day.ambient_pressure == gw::standard_atmosphere);
  CHECK_FALSE(job.lighting.igniter_pressure);
  CHECK_FALSE(job.lighting.spare_volume);
  CHECK(job.shop->length_step == 0);
  CHECK(job.shop->tube_stock == 0);
  CHECK_FALSE(job.from_strength);
  CHECK(job.shell->head->seal_diameter == job.casing->bore);
  CHECK(std::get<gw::BondedJoint>(job.shell->head->joint).diameter == job.casing->bore);
  CHECK_FALSE(job.shell->nozzle);
  CHECK_FALSE(job.shell->gas_temperature);
  CHECK(job.airframe->altitude == 0);
  CHECK_FALSE(job.airframe->temperature);
}

TEST_CASE("A required key is missed") {
  for (const gw::JobKey& key : gw::job_keys()) {
    if (key.standing != "required") continue;
    const auto [header, name] = split(key.path);
    INFO(key.path);
    const std::string text = without_key(least, header, name);
    REQUIRE(text != least);
    const auto lines = job_text::complaints_of(text);
    REQUIRE_FALSE(lines.empty());
    CHECK_THAT(lines.front(), Catch::Contains(name + ": missing: "));
  }
}

TEST_CASE("Every key is read: without it each example of the page says something else") {
  std::set<std::string> seen;
  for (int index = 0; index < job_text::examples_of_page; ++index) {
    const std::string example = job_text::example_of_page(index);
    const std::string whole = described(gw::parse_job(example, ""));
    for (const gw::JobKey& key : gw::job_keys()) {
      const auto [header, name] = split(key.path);
      const std::string text = without_key(example, header, name == "*" ? "oxidiser" : name);
      if (text == example) continue;
      seen.insert(std::string(key.path));
      INFO(key.path);
      CHECK(
          (!job_text::complaints_of(text).empty() || described(gw::parse_job(text, "")) != whole));
    }
  }
  for (const gw::JobKey& key : gw::job_keys()) {
    INFO(key.path);
    CHECK(seen.contains(std::string(key.path)));
  }
}

TEST_CASE("No key is listed twice, and each says all there is to say") {
  std::set<std::string_view> paths;
  for (const gw::JobKey& key : gw::job_keys()) {
    INFO(key.path);
    CHECK(paths.insert(key.path).second);
    CHECK_FALSE(key.kind.empty());
    CHECK_FALSE(key.standing.empty());
    CHECK_FALSE(key.range.empty());
    CHECK_FALSE(key.meaning.empty());
  }
}
