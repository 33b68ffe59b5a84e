// SPDX-License-Identifier: GPL-3.0-or-later
//
// stand_coverage [LOGS]: how many of so many made-up logs have the truth within the 95 % interval
// that the fit states, for rate, exponent and efficiency. Exit 1 where fewer than 90 % have.
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "stand/synthetic.hpp"

int main(int argc, char** argv) {
  namespace gw = grainwright;
  const int logs = argc > 1 ? std::atoi(argv[1]) : 100;
  gw::Motor truth = synthetic::motor();
  truth.propellant.law = gw::BurnLaw(gw::tilted(truth.propellant.law.pieces(), 1.12, 0.05, 3e6));
  truth.nozzle.efficiency = 0.84;
  std::array<int, 3> within = {};
  for (int seed = 1; seed <= logs; ++seed) {
    const gw::Log log = synthetic::log_of(
        truth, {.rate = 500, .noise = 4, .tare = 9, .seed = static_cast<unsigned>(seed)});
    const gw::Fit f =
        gw::fit({{synthetic::motor(), {}, gw::cleaned(log)}}, gw::FitOptions::noise_alone());
    const std::array<double, 3> off = {
        (f.rate.value - truth.propellant.law.rate(f.at)) / f.rate.error,
        (f.n.value - truth.propellant.law.pieces().front().exponent) / f.n.error,
        (f.efficiency.value - truth.nozzle.efficiency) / f.efficiency.error};
    for (std::size_t i = 0; i < off.size(); ++i) {
      if (std::abs(off[i]) <= gw::interval_factor) ++within[i];
    }
  }
  std::printf("of %d logs, truth within the stated 95 %%: rate %d, exponent %d, efficiency %d\n",
              logs, within[0], within[1], within[2]);
  for (const int count : within) {
    if (10 * count < 9 * logs) return 1;
  }
  return 0;
}
