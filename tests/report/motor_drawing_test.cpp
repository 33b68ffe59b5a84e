// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/motor_drawing.hpp"

#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/job/job.hpp"

using namespace grainwright;

namespace {

const std::filesystem::path house = GRAINWRIGHT_SOURCE_DIR;

std::string content(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

MotorParts parts_of(const std::string& job_file) {
  const Job job = read_job(house / job_file);
  return {motor_of(job), job.casing, job.shell, job.units};
}

/// The drawn places of a path, as (x, y).
std::vector<std::pair<double, double>> places(const std::string& data) {
  static const std::regex place("[ML](-?[0-9.]+) (-?[0-9.]+)");
  std::vector<std::pair<double, double>> found;
  for (auto i = std::sregex_iterator(data.begin(), data.end(), place); i != std::sregex_iterator();
       ++i) {
    found.emplace_back(std::stod((*i)[1]), std::stod((*i)[2]));
  }
  return found;
}

/// Half the area of a section's closed shapes, in squares of the drawing.
double shoelace(const std::string& data) {
  double sum = 0;
  std::size_t from = 0;
  for (std::size_t end = data.find('Z'); end != std::string::npos; end = data.find('Z', from)) {
    const auto corners = places(data.substr(from, end - from));
    double shape = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const auto& [x1, y1] = corners[i];
      const auto& [x2, y2] = corners[(i + 1) % corners.size()];
      shape += (x1 * y2 - x2 * y1) / 2;
    }
    sum += std::abs(shape) / 2;
    from = end + 1;
  }
  return sum;
}

}  // namespace

TEST_CASE("the drawing of a motor is the stored one") {
  const std::string svg =
      motor_svg(parts_of("tests/reference/jobs/pinned-shell.toml"), {0.002, 0.004});
  const std::filesystem::path made = std::filesystem::path(GRAINWRIGHT_BINARY_DIR) / "golden-svg";
  std::filesystem::create_directories(made);
  std::ofstream(made / "motor.svg", std::ios::binary) << svg;
  INFO("read build/golden-svg/motor.svg in a browser; if it is right, tests/accept stores it");
  CHECK(svg == content(house / "tests/report/motor.svg"));
}

TEST_CASE("a drawing is to scale") {
  const MotorParts parts = parts_of("cases/01-even-length-of-three.toml");
  const SectionPaths section = grain_sections(parts, {0}).front();
  const auto corners = places(section.propellant);
  const Segment& segment = parts.motor.grain.layers.front().segment;
  // A shape has four corners: head end inside, nozzle end inside, nozzle end outside, ...
  const double unit = (corners[1].first - corners[0].first) / segment.length;
  const double wall = (segment.outer_diameter - segment.core_diameter) / 2;
  CHECK(corners[1].second - corners[2].second == Approx(unit * wall).margin(0.11));
  const double pitch = segment.length + parts.motor.grain.spacer;
  CHECK(corners[8].first - corners[0].first == Approx(unit * pitch).margin(0.11));
}

TEST_CASE("the section shrinks as the web burns, and nothing is left at burnout") {
  const MotorParts parts = parts_of("cases/01-even-length-of-three.toml");
  const Burnback burnback(parts.motor.grain);
  CHECK(rc::check("two webs", [&] {
    const double share = *rc::gen::inRange(0, 900) / 1000.0;
    const double web = share * burnback.burnout();
    const double more = web + 0.1 * burnback.burnout();
    const auto sections = grain_sections(parts, {web, more});
    RC_ASSERT(shoelace(sections[1].propellant) < shoelace(sections[0].propellant));
  }));
  const SectionPaths end = grain_sections(parts, {burnback.burnout()}).front();
  CHECK(end.propellant.empty());
  CHECK(end.front.empty());
}

TEST_CASE("a drawing is said in words too") {
  CHECK(motor_words(parts_of("cases/01-even-length-of-three.toml")).find("3 segments") !=
        std::string::npos);
}

TEST_CASE("a tapered core written as a turned one is drawn as the plain core that it is") {
  MotorParts parts = parts_of("cases/01-even-length-of-three.toml");
  const std::vector<double> webs = {0, 0.001, 0.004, 0.009};
  const auto plain = grain_sections(parts, webs);
  for (Layer& layer : parts.motor.grain.layers) {
    const double core = layer.segment.core_diameter;
    layer.segment = with_core(layer.segment, {tapered_core(layer.segment.length, core, core)});
  }
  const auto turned = grain_sections(parts, webs);
  for (std::size_t i = 0; i < webs.size(); ++i) {
    CHECK(shoelace(turned[i].propellant) == Approx(shoelace(plain[i].propellant)).epsilon(2e-3));
  }
}

TEST_CASE("a core off centre leaves the two walls that the cut meets") {
  MotorParts parts = parts_of("cases/01-even-length-of-three.toml");
  Segment& segment = parts.motor.grain.layers.front().segment;
  const auto plain = grain_sections(parts, {0, 0.003});
  segment = with_core(segment, {OffCentreCore{segment.core_diameter, 0}});
  const auto swept = grain_sections(parts, {0, 0.003});
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(shoelace(swept[i].propellant) == Approx(shoelace(plain[i].propellant)).epsilon(2e-3));
  }
}
