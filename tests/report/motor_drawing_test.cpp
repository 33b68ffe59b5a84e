// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/motor_drawing.hpp"

#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>

#include "grainwright/grain/burnback.hpp"
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
  const SectionPaths section = grain_section(parts, 0);
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
    RC_ASSERT(shoelace(grain_section(parts, more).propellant) <
              shoelace(grain_section(parts, web).propellant));
  }));
  CHECK(grain_section(parts, burnback.burnout()).propellant.empty());
  CHECK(grain_section(parts, burnback.burnout()).front.empty());
}

TEST_CASE("a drawing is said in words too") {
  CHECK(motor_words(parts_of("cases/01-even-length-of-three.toml")).find("3 segments") !=
        std::string::npos);
}
