// SPDX-License-Identifier: GPL-3.0-or-later
//
// How likely is it, and which mistake hurts most: many firings of motors that are drawn alike and
// come out unlike. Steady firings at scrambled Sobol points; strengths in closed form at each load;
// Sobol's indices for what carries the spread; each mistake once more alone. See docs/scatter.md.
//
// The same seed gives the same result on any number of threads.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "grainwright/firing/transient.hpp"
#include "grainwright/flight/airframe.hpp"
#include "grainwright/motor/motor.hpp"
#include "grainwright/scatter/estimate.hpp"
#include "grainwright/scatter/fault.hpp"
#include "grainwright/scatter/tolerances.hpp"
#include "grainwright/strength/margins.hpp"

namespace grainwright {

/// A motor, and how its copies differ.
struct ScatterTask {
  Motor motor;
  Tolerances tolerances = {};
  std::vector<Fault> faults = {};
  std::optional<double> ceiling = {};     ///< Pa, on the peak pressure
  std::optional<Shell> shell = {};        ///< what holds is not judged without it
  std::optional<Airframe> airframe = {};  ///< nothing flies without it
  Lighting lighting = {};                 ///< of the transient firing that is set beside
};

/// Everything wrong with the motor, the shell, the airframe, the tolerances and the mistakes.
[[nodiscard]] std::vector<Complaint> complaints(const ScatterTask& task);

/// How many firings, from which seed, on how many threads.
struct ScatterOptions {
  std::size_t samples = 65536;                ///< at least; whole replicates are made
  std::uint64_t seed = 1;                     ///< of the scrambles
  unsigned threads = 0;                       ///< 0: as many as the machine has
  std::stop_token stop = {};                  ///< asked after each replicate but the first two
  std::function<void(double)> progress = {};  ///< called from one thread with the share done
};

/// Percentiles of a figure.
struct Percentiles {
  Estimate p5;
  Estimate p50;
  Estimate p95;
};

/// A firing by itself, nothing strayed.
struct SingleFiring {
  double peak_pressure = 0;          ///< Pa
  double peak_thrust = 0;            ///< N
  double total_impulse = 0;          ///< N s
  double burn_time = 0;              ///< s
  std::optional<double> rail_speed;  ///< m/s
  std::string gives_first;           ///< the part; empty where none is judged
  std::string mode;
  double ratio = 0;  ///< of that part: strength / load, at its worst moment
};

/// How likely one part is to give.
struct PartChance {
  std::string part;  ///< "pipe", "head closure" or "nozzle seat"
  std::string mode;  ///< by which it gives first in the motor as drawn
  Estimate chance;   ///< that its load passes its strength
  double ratio = 0;  ///< of the motor as drawn
  double holds = 0;  ///< Pa, absolute: the peak pressure that it holds with its median strength
};

/// What one input or mistake does. Strengths carry nothing of the pressure's variance.
struct InputShare {
  std::string name;
  std::string key;                         ///< of the job: "tolerance.throat", "fault 2"
  std::optional<Spread> spread;            ///< none of a mistake
  double probability = 0;                  ///< of a mistake
  Estimate alone;                          ///< first-order index of peak pressure
  Estimate total;                          ///< total index
  std::optional<Estimate> over_if_exact;   ///< chance over the ceiling, were it exact or avoided
  std::optional<Estimate> gives_if_exact;  ///< chance that any part gives, likewise
};

/// A mistake by itself, all else as drawn.
struct Mistake {
  Fault fault;
  std::string name;
  SingleFiring firing;
};

/// How often the peak pressure falls where.
struct Histogram {
  double from = 0;            ///< Pa, lower edge of the first bin
  double step = 0;            ///< Pa
  std::vector<double> share;  ///< of all firings; the end bins hold what lies beyond them too
};

/// Thrust at moments after lighting; a motor that has burned out counts with no thrust.
struct ThrustBand {
  std::vector<double> time;  ///< s
  std::vector<double> p5;    ///< N
  std::vector<double> p50;
  std::vector<double> p95;
};

/// The quick reckoning of hot strength against `margins` in full, at some of the firings.
struct HeatCheck {
  int firings = 0;
  double greatest_error = 0;  ///< relative, of the least ratio
};

/// The firings beside the transient model, by which a motor is judged elsewhere.
struct BesideTransient {
  /// Peak pressure of the motor as drawn, fired by that model, over its steady one.
  double peak_ratio = 1;
  /// Chance over the ceiling, were every peak so many times its steady one.
  std::optional<Estimate> over_ceiling;
};

/// What the firings told.
struct ScatterResult {
  std::size_t samples = 0;  ///< that were made
  std::size_t replicates = 0;
  std::uint64_t seed = 0;
  bool stopped = false;  ///< ended early on request, with what was made until then
  SingleFiring as_drawn;
  Percentiles peak_pressure;              ///< Pa
  Percentiles peak_thrust;                ///< N
  Percentiles total_impulse;              ///< N s
  Percentiles burn_time;                  ///< s
  std::optional<Percentiles> rail_speed;  ///< m/s
  Estimate mean_pressure;                 ///< mean of the peak pressure, Pa
  Estimate sigma_pressure;                ///< its standard deviation, Pa
  std::optional<double> ceiling;
  std::optional<Estimate> over_ceiling;
  BesideTransient transient;
  std::vector<PartChance> parts;  ///< most likely to give first
  std::optional<Estimate> anything_gives;
  std::vector<InputShare> shares;  ///< what to tame first, first
  std::vector<Mistake> mistakes;   ///< highest peak pressure first
  Histogram histogram;
  ThrustBand thrust;
  HeatCheck heat;
};

/// Throws InputError with the task's complaints.
[[nodiscard]] ScatterResult scatter(const ScatterTask& task, const ScatterOptions& options = {});

/// One standard deviation of the logarithm of the peak pressure by the tolerances alone, mistakes
/// left out; straight lines around the motor as drawn. Takes microseconds.
[[nodiscard]] double log_pressure_sigma(const Motor& motor, const Tolerances& tolerances);

/// The peak pressure, Pa, that a part of all motors keeps under, by a scatter of `samples` firings;
/// mistakes included.
[[nodiscard]] double pressure_at_confidence(const ScatterTask& task, double confidence,
                                            std::size_t samples);

}  // namespace grainwright
