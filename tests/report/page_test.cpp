// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/page.hpp"

#include <catch2/catch.hpp>
#include <filesystem>

#include "grainwright/grain/burnback.hpp"
#include "grainwright/job/job.hpp"

using namespace grainwright;

TEST_CASE("every moment of the slider is within the burn, whatever its length") {
  const Job job = read_job(std::filesystem::path(GRAINWRIGHT_SOURCE_DIR) /
                           "cases/01-even-length-of-three.toml");
  const MotorParts parts{motor_of(job), job.casing, job.shell, job.units};
  const double burnout = Burnback(parts.motor.grain).burnout();
  for (int i = 0; i < 30; ++i) {
    const double end = 1 + 0.037 * i;  // s; sixty sixtieths of some of these are a bit more
    CAPTURE(end);
    Report report;
    report.motor = parts;
    report.burn = Burn{{0, end}, {0, burnout}, {1, 0}};
    report.first = {"thrust", "Thrust", Dimension::force, {0, end}, {{"thrust", {1, 1}}}};
    const std::string html = html_of(report);
    CHECK(html.find("\"web\":0,") != std::string::npos);
    CHECK(html.find("\"web\":nan") == std::string::npos);
  }
}
