// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/round_trip.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "stand/synthetic.hpp"

namespace gw = grainwright;
using Catch::Contains;
using synthetic::even_motor;
using synthetic::Noisy;

namespace {

struct Judged {
  gw::Fit fit;
  std::vector<gw::RoundTrip> trips;
  std::vector<gw::Doubt> doubts;
  [[nodiscard]] std::string words() const {
    std::string all;
    for (const gw::Doubt& doubt : doubts) all += doubt.words + '\n';
    return all;
  }
};

Judged judged(const gw::Motor& job, gw::Log log) {
  const std::vector<gw::Shot> shots = {{job, {}, gw::cleaned(std::move(log))}};
  Judged result{gw::fit(shots), {}, {}};
  result.trips = gw::round_trips(shots, result.fit);
  result.doubts = gw::doubts_on(shots, result.fit, result.trips);
  return result;
}

gw::Log scaled(double force, double time) {
  gw::Log log = synthetic::log_of(even_motor(), {.rate = 500, .noise = 2, .tare = 9});
  for (double& f : log.force) f *= force;
  for (double& t : log.time) t *= time;
  return log;
}

}  // namespace

TEST_CASE("A sound log's law gives the firing back, and nothing is doubted") {
  gw::Motor truth = even_motor();
  truth.propellant.law = truth.propellant.law.times(1.15);
  const Judged found =
      judged(even_motor(), synthetic::log_of(truth, {.rate = 500, .noise = 2, .tare = 9}));
  INFO(found.words());
  CHECK(found.doubts.empty());
  REQUIRE(found.trips.size() == 1);
  CHECK(found.trips.front().met());
  CHECK(found.trips.front().figures.size() == 4);
}

// One pound-force is 4.4482216152605 N exactly, and standard gravity 9.80665 m/s2: NIST SP 811.
TEST_CASE("Common slips are recognised, and named with their factor") {
  const auto words = [](double force, double time) {
    return judged(even_motor(), scaled(force, time)).words();
  };
  CHECK_THAT(words(4.4482216152605, 1),
             Contains("newtons labelled pounds-force") && Contains("4.448"));
  CHECK_THAT(words(1 / 4.4482216152605, 1), Contains("pounds-force labelled newtons"));
  CHECK_THAT(words(9.80665, 1), Contains("newtons labelled kilograms") && Contains("9.807"));
  CHECK_THAT(words(1000, 1), Contains("1000 times too great"));
  CHECK_THAT(words(1, 2), Contains("sample rate off by two") && Contains("2 times too great"));
  CHECK_THAT(words(1, 0.5), Contains("sample rate off by two"));
}

TEST_CASE("Another motor's log is left over, and its law does not give it back") {
  gw::Motor other = even_motor();
  // One long pour where the job has three segments: it burns progressively.
  other.grain = {
      .layers = {{.segment = {.length = 0.19, .outer_diameter = 0.038, .core_diameter = 0.008},
                  .count = 1}}};
  const Judged found =
      judged(even_motor(), synthetic::log_of(other, {.rate = 500, .noise = 2, .tare = 9}));
  CHECK_FALSE(found.doubts.empty());
}

TEST_CASE("A bent scale is not taken for a weak nozzle") {
  gw::Log log = synthetic::log_of(even_motor(), {.rate = 500, .noise = 1});
  const double most = *std::ranges::max_element(log.force);
  for (double& f : log.force) f = 0.75 * most * std::tanh(f / (0.75 * most));
  CHECK_FALSE(judged(even_motor(), std::move(log)).doubts.empty());
}
