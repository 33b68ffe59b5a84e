// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/core_picture.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <regex>

#include "grain/shapes.hpp"
#include "grainwright/grain/core.hpp"

using namespace grainwright;
using namespace shapes;
using bench::Json;
using bench::picture_of;

namespace {

constexpr double length = 80 * mm;
constexpr double outer = 50 * mm;

Segment cored(Core core) {
  return with_core(segment_mm(50, 0, 80, both_ends_bare), std::move(core));
}

/// What of path data lies between a pen put down and the next.
struct Part {
  double area = 0;    ///< m2, where it is closed
  double length = 0;  ///< m, of its straight lines
};

std::vector<Part> parts_of(const Json& path) {
  static const std::regex step(R"(([ML])(\S+) ([^MLAZ]+))");
  const std::string data = path;
  std::vector<Part> parts;
  double x = 0;
  double y = 0;
  for (std::sregex_iterator i(data.begin(), data.end(), step), end; i != end; ++i) {
    const double to_x = std::stod((*i)[2]) / bench::picture_scale;
    const double to_y = std::stod((*i)[3]) / bench::picture_scale;
    if ((*i)[1] == "M") {
      parts.emplace_back();
    } else {
      parts.back().area += (x * to_y - to_x * y) / 2;
      parts.back().length += std::hypot(to_x - x, to_y - y);
    }
    x = to_x;
    y = to_y;
  }
  return parts;
}

double length_of(const Json& path) {
  double sum = 0;
  for (const Part& part : parts_of(path)) sum += part.length;
  return sum;
}

/// Of both halves, the thinner one first.
std::vector<double> halves(const Json& picture) {
  std::vector<double> areas;
  for (const Part& part : parts_of(picture["cut"])) areas.push_back(std::abs(part.area));
  std::ranges::sort(areas);
  return areas;
}

}  // namespace

TEST_CASE("a plain round core needs no picture") {
  CHECK(picture_of(segment_mm(50, 16, 80, both_ends_bare)).is_null());
}

TEST_CASE("a tapered core is drawn tapered") {
  const Json picture = picture_of(cored({tapered_core(length, 10 * mm, 18 * mm)}));
  const double half = length * (outer - 14 * mm) / 2;  // closed form
  CHECK_THAT(halves(picture), Catch::Matchers::Approx(std::vector{half, half}));
  CHECK(length_of(picture["faces"]["head"]) == Approx(outer - 10 * mm));
  CHECK(length_of(picture["faces"]["nozzle"]) == Approx(outer - 18 * mm));
  CHECK(length_of(picture["faces"]["core"]) == Approx(2 * std::hypot(length, 4 * mm)));
  CHECK(length_of(picture["faces"]["outer"]) == Approx(2 * length));
  CHECK_FALSE(picture.contains("end"));
}

TEST_CASE("slots are drawn, and burn with the core") {
  TurnedCore turned = tapered_core(length, 14 * mm, 14 * mm);
  turned.slots = {{20 * mm, 2 * mm, 7 * mm}, {50 * mm, 4 * mm, 6 * mm}};
  const Json picture = picture_of(cored({turned}));
  const double half = length * (outer - 14 * mm) / 2 - (2 * 7 + 4 * 6) * mm * mm;  // closed form
  CHECK_THAT(halves(picture), Catch::Matchers::Approx(std::vector{half, half}));
  CHECK(length_of(picture["faces"]["core"]) == Approx(2 * (length + 2 * 7 * mm + 2 * 6 * mm)));
}

TEST_CASE("a core beside the middle leaves a thin side and a thick one") {
  const Json picture = picture_of(cored({OffCentreCore{16 * mm, 3 * mm}}));
  // Nearly: the cut is a hair beside the plane in which the core stands.
  const double thin = length * (25 - 8 - 3) * mm;
  const double thick = length * (25 - 8 + 3) * mm;
  CHECK_THAT(halves(picture), Catch::Matchers::Approx(std::vector{thin, thick}).epsilon(1e-4));
  CHECK(picture["end"].get<std::string>().find('A') != std::string::npos);
}

TEST_CASE("what makes no segment has no picture") {
  CHECK(picture_of(cored({OffCentreCore{16 * mm, 30 * mm}})).is_null());
}
