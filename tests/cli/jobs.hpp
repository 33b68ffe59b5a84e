// SPDX-License-Identifier: GPL-3.0-or-later
//
// Job files that the tests of the commands work on. Builders, motors and figures are invented.
#pragma once

#include <stdexcept>
#include <string>

namespace jobs {

/// Four equal segments whose firing has a closed form for everything but the burn time; expansion
/// ratio 6, no losses.
inline const std::string whole_motor = R"([job]
title = "Whole motor"
units = "si"

[propellant]
name = "example"
density = "1770 kg/m3"
characteristic_velocity = "1500 m/s"
gamma = 1.2
[[propellant.law]]
rate = "3 mm/s"
at = "1 MPa"
n = 0.35

[nozzle]
throat = "14 mm"
exit = "34.292856398964496 mm"

[[segment]]
count = 4
length = "85 mm"
outer_diameter = "50 mm"
core = "20 mm"
)";

/// Three even segments in a plain pipe, the shop that made them, and a wish that it can meet.
inline const std::string short_casing = R"([job]
title = "Short casing"
units = "us"

[casing]
pipe = "1-1/2 sch 40"
grain_room = "7 1/2 in"
tube_wall = "0.06 in"
fit = "0.02 in"
material = "pvc-1120"

[propellant]
name = "kn-sorbitol"
density_ratio = 0.95

[nozzle]
throat = "3/8 in"
efficiency = 0.85

[[segment]]
count = 3
length = "2 7/16 in"
core = "1/2 in"

[limits]
pressure = "4 MPa"

[shop]
mandrels = ["3/8 in", "1/2 in", "5/8 in"]
throats = ["11/32 in", "3/8 in"]
length_step = "1/8 in"
spacer = "1/16 in"
most_segments = 4
most_kinds = 2
shortest_segment = "1 in"
kerf = "1/16 in"
tube_stock = "12 in"
waste = 0.08

[wish]
profile = "flat"
loading = 0.5
)";

/// The job with one passage exchanged; the passage must be there.
inline std::string changed(std::string job, const std::string& from, const std::string& to) {
  auto at = job.find(from);
  if (at == std::string::npos) throw std::logic_error("the job has no " + from);
  return job.replace(at, from.size(), to);
}

}  // namespace jobs
