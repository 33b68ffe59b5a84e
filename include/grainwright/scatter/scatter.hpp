// SPDX-License-Identifier: GPL-3.0-or-later
//
// How likely is it, and which mistake hurts most: many firings of motors that are drawn alike and
// come out unlike. Steady firings at scrambled Sobol points, their peak pressures carried to the
// model by which the motor is judged elsewhere; strengths in closed form at each load; Sobol's
// indices for what carries the spread; each mistake once more alone. See docs/scatter.md.
//
// The same seed gives the same result on any number of threads.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "grainwright/flight/airframe.hpp"
#include "grainwright/motor/motor.hpp"
#include "grainwright/scatter/estimate.hpp"
#include "grainwright/scatter/fault.hpp"
#include "grainwright/scatter/tolerances.hpp"
#include "grainwright/strength/margins.hpp"

namespace grainwright {

/// By what a motor's peak pressure is judged elsewhere; steady firings are its quick stand-in.
struct PeakJudge {
  std::string model;  ///< "transient", "axial", for print
  /// Pa, absolute, at the head end, the highest of its models; nothing where a port chokes before
  /// the throat. Called from several threads at once. What it throws as InputError for the motor as
  /// drawn is thrown on; a strayed motor of which it does so counts as over the ceiling.
  std::function<std::optional<double>(const Motor&)> peak;
};

/// A motor, and how its copies differ.
struct ScatterTask {
  Motor motor;
  Tolerances tolerances = {};
  std::vector<Fault> faults = {};
  std::optional<double> ceiling = {};     ///< Pa, on the peak pressure
  std::optional<Shell> shell = {};        ///< what holds is not judged without it
  std::optional<Airframe> airframe = {};  ///< nothing flies without it
  std::optional<PeakJudge> judge = {};    ///< without one, steady peaks are told and called so
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

/// A firing by itself, nothing strayed. Peak pressure by the judged model, the rest steady.
struct SingleFiring {
  double peak_pressure = 0;          ///< Pa; too low where a port chokes
  double peak_thrust = 0;            ///< N
  double total_impulse = 0;          ///< N s
  double burn_time = 0;              ///< s
  std::optional<double> rail_speed;  ///< m/s
  std::string gives_first;           ///< the part; empty where none is judged
  std::string mode;
  double ratio = 0;          ///< of that part: strength / load, at its worst moment
  bool port_chokes = false;  ///< before the throat: no model tells its pressure
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

/// How the steady peaks were carried to the judged model, and how well: some of the drawn motors,
/// those nearest the ceiling (the 95th percentile without one), fired by that model in full.
struct JudgedPeaks {
  std::string model = "steady";  ///< as the task's judge calls itself
  double ratio = 1;              ///< judged peak / steady peak of the motor as drawn
  int checked = 0;               ///< how many drawn motors were fired in full
  /// Relative, of the peak in full against the carried one, over those.
  double greatest_difference = 0;
  /// The greatest difference upward, a share. For the chances, not for the percentiles, peaks were
  /// raised by what was found upward among motors with the same mistakes, by this at most.
  double raised = 0;
  int over_in_full = 0;  ///< how many of those pass the ceiling, fired in full
  int over_carried = 0;  ///< and as carried, before they were raised
};

/// What the firings told.
struct ScatterResult {
  std::size_t samples = 0;  ///< that were made
  std::size_t replicates = 0;
  std::uint64_t seed = 0;
  bool stopped = false;  ///< ended early on request, with what was made until then
  SingleFiring as_drawn;
  Percentiles peak_pressure;              ///< Pa, by the judged model
  Percentiles peak_thrust;                ///< N
  Percentiles total_impulse;              ///< N s
  Percentiles burn_time;                  ///< s
  std::optional<Percentiles> rail_speed;  ///< m/s
  Estimate mean_pressure;                 ///< mean of the peak pressure, Pa
  Estimate sigma_pressure;                ///< its standard deviation, Pa
  std::optional<double> ceiling;
  std::optional<Estimate> over_ceiling;  ///< where a port chokes, too
  JudgedPeaks judged;
  /// Share of the motors of which a port may choke before the throat: they count as over the
  /// ceiling and as failing, and their peak pressures in here are too low. 0 where none can.
  Estimate port_chokes;
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
/// mistakes included; carried to the judged model where the task has a judge, without the check in
/// full. Infinite where the ports of more than the rest may choke, which is not looked at without a
/// judge.
[[nodiscard]] double pressure_at_confidence(const ScatterTask& task, double confidence,
                                            std::size_t samples);

}  // namespace grainwright
