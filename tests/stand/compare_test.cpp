// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/compare.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "stand/synthetic.hpp"

namespace gw = grainwright;
using synthetic::even_motor;

namespace {

/// The comparison of a motor with the log of another one, or of its own thrust bent.
template <class Bend>
gw::Comparison compared(const gw::Motor& truth, Bend&& bend) {
  gw::Log log = synthetic::log_of(truth, {.noise = 0.5, .lit = 0.5});
  const double burn = gw::fire_transient(truth).summary.burn_time;
  for (std::size_t i = 0; i < log.time.size(); ++i) {
    log.force[i] = bend((log.time[i] - 0.5) / burn, log.force[i]);
  }
  const gw::Shot shot{even_motor(), {}, gw::cleaned(log)};
  return gw::compare(shot, gw::figures_of(shot.trace));
}
gw::Comparison compared(const gw::Motor& truth) {
  return compared(truth, [](double, double f) { return f; });
}

bool points_to(const gw::Comparison& comparison, const std::string& sign) {
  for (const gw::Hint& hint : comparison.hints) {
    if (hint.sign.starts_with(sign)) return true;
  }
  return false;
}

const gw::Compared& figure(const gw::Comparison& comparison, const std::string& name) {
  return *std::ranges::find(comparison.figures_compared, name, &gw::Compared::name);
}

}  // namespace

TEST_CASE("A firing as predicted points to nothing, and is within the band") {
  const gw::Comparison c = compared(even_motor());
  CHECK(c.hints.empty());
  for (const gw::Compared& one : c.figures_compared) {
    INFO(one.name);
    CHECK(one.within());
    CHECK(one.ratio() == Approx(1).epsilon(0.01));
    CHECK(one.low < one.predicted);
    CHECK(one.high > one.predicted);
  }
  for (const gw::Tenth& tenth : c.tenths) CHECK(std::abs(tenth.residual) < 0.02 * tenth.predicted);
}

TEST_CASE("The band is the job's own doubt where it has one") {
  gw::Motor job = even_motor();
  const gw::Shot usual{job, {}, gw::cleaned(synthetic::log_of(job, {}))};
  const gw::Comparison wide = gw::compare(usual, gw::figures_of(usual.trace));
  CHECK(wide.rate_error == gw::usual_rate_error);
  job.propellant.measured = gw::Measured{.rate_error = 0.02};
  const gw::Shot known{job, {}, usual.trace};
  const gw::Comparison narrow = gw::compare(known, gw::figures_of(usual.trace));
  CHECK(narrow.rate_error == 0.02);
  CHECK(figure(narrow, "burning time").high < figure(wide, "burning time").high);
  CHECK(gw::compare(known, gw::figures_of(usual.trace), 0.3).rate_error == 0.3);
}

TEST_CASE("Low all through points to the efficiency, quicker to the rate") {
  gw::Motor weak = even_motor();
  weak.nozzle.efficiency *= 0.85;
  CHECK(points_to(compared(weak), "Low all through"));
  gw::Motor quick = even_motor();
  quick.propellant.law = quick.propellant.law.times(1.2);
  const gw::Comparison c = compared(quick);
  CHECK(points_to(c, "Quicker"));
  CHECK_FALSE(points_to(c, "Low"));
  CHECK(figure(c, "burning time").ratio() < 0.85);
}

TEST_CASE("An early hump, a late rise and a long tail are told from one another") {
  const auto hump = [](double u, double f) { return u > 0 && u < 0.35 ? 1.35 * f : f; };
  const gw::Comparison early = compared(even_motor(), hump);
  CHECK(points_to(early, "An early hump"));
  CHECK_FALSE(points_to(early, "A late rise"));
  const auto slow = [](double u, double f) { return u > 0 && u < 0.3 ? f * u / 0.3 : f; };
  const gw::Comparison late = compared(even_motor(), slow);
  CHECK(points_to(late, "A late rise"));
  CHECK_FALSE(points_to(late, "An early hump"));
  const auto sliver = [](double u, double f) {
    return u > 0.9 ? std::max(0.0, 250 * (1 - (u - 0.9) / 0.35)) : f;
  };
  CHECK(points_to(compared(even_motor(), sliver), "A long tail"));
}

TEST_CASE("The log beside its prediction is thinned by averages, and keeps its impulse") {
  const gw::Shot shot{
      even_motor(), {}, gw::cleaned(synthetic::log_of(even_motor(), {.rate = 5000}))};
  const gw::StandFigures figures = gw::figures_of(shot.trace);
  const gw::Comparison c = gw::compare(shot, figures);
  const gw::Beside whole = gw::beside(shot.trace, &c, nullptr, 1'000'000);
  const gw::Beside thin = gw::beside(shot.trace, &c, nullptr, 100);
  CHECK(thin.time.size() <= 100);
  CHECK(thin.predicted_thrust.size() == thin.time.size());
  CHECK(thin.fitted_thrust.empty());
  for (const gw::Beside& rows : {whole, thin}) {
    CHECK(gw::integral(rows.time, rows.thrust, rows.time.front(), rows.time.back()) ==
          Approx(figures.total_impulse.value).epsilon(2e-3));
  }
}
