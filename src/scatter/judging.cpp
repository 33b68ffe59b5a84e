// SPDX-License-Identifier: GPL-3.0-or-later
#include "judging.hpp"

#include <algorithm>
#include <cmath>

#include "grainwright/grain/core.hpp"
#include "grainwright/parallel.hpp"
#include "grainwright/scatter/points.hpp"
#include "grainwright/strength/change.hpp"

namespace grainwright {
namespace {

// Motors with wider and narrower ports than drawn, over what the tolerances reach.
constexpr int most_nodes = 6;
// Nearer to each other than this, port loads need no node of their own.
constexpr double same_load = 1e-4;
// Halvings of the last step before a port chokes.
constexpr int halvings = 6;
constexpr std::size_t checks = 48;
// Where fronts are built anew for each firing, which may cost a hundredth of a second a segment.
constexpr std::size_t dear_checks = 8;
constexpr unsigned log2_candidates = 12;
// Apart from those of the replicates, which count up from 0, and of the traces.
constexpr std::uint64_t own_scramble = std::uint64_t{1} << 41U;

double steady_peak(const Motor& motor) {
  return steady_summary(Burnback(motor.grain),
                        SteadyChamber(motor.propellant, motor.nozzle, motor.day))
      .peak_pressure;
}

/// Judged over steady peak; nothing where a port chokes or the motor cannot be judged at all.
std::optional<double> judged_ratio(const PeakJudge& judge, const Motor& motor) {
  try {
    const std::optional<double> peak = judge.peak(motor);
    if (peak) return *peak / steady_peak(motor);
  } catch (const InputError&) {  // slag closes a narrower throat: as bad as a port that chokes
  }
  return std::nullopt;
}

bool cheap(const Motor& motor) {
  return std::ranges::all_of(motor.grain.layers,
                             [](const Layer& layer) { return shown_by_planes(layer.segment); });
}

/// The same motor with its busiest port under another load: by its throat, and by as much more burn
/// rate as keeps its steady pressures where they are in its law.
Motor with_load(const Motor& motor, double load, double as_drawn) {
  const double times = load / as_drawn;
  Motor changed = with_throat(motor, motor.nozzle.throat_diameter * std::sqrt(times));
  changed.propellant.law = changed.propellant.law.times(times);
  return changed;
}

/// Port loads to fire at, the one as drawn first.
std::vector<double> loads_between(const LoadRange& range, double as_drawn) {
  std::vector<double> loads = {as_drawn};
  const double to = std::min(range.greatest, 1.0);
  if (as_drawn <= 0 || to - range.least < same_load) return loads;
  // Even in the measure of carry.cpp.
  const double first = std::sqrt(1 - std::min(range.least, 1.0));
  const double last = std::sqrt(1 - to);
  for (int i = 0; i < most_nodes; ++i) {
    const double root = std::lerp(first, last, i / (most_nodes - 1.0));
    const double load = 1 - root * root;
    if (std::abs(load - as_drawn) > same_load) loads.push_back(load);
  }
  return loads;
}

/// From fired motors to a carry, with the place where ports begin to choke sought out.
Carry from_nodes(const PeakJudge& judge, const Motor& motor, const std::vector<double>& loads,
                 const std::vector<std::optional<double>>& ratios) {
  std::vector<Carry::Node> nodes;
  double bad = 1;
  for (std::size_t i = 0; i < loads.size(); ++i) {
    if (!ratios[i]) bad = std::min(bad, loads[i]);
  }
  double good = 0;
  for (std::size_t i = 0; i < loads.size(); ++i) {
    if (loads[i] >= bad) continue;
    nodes.push_back({loads[i], *ratios[i]});
    good = std::max(good, loads[i]);
  }
  const bool chokes = std::ranges::any_of(ratios, [](const auto& ratio) { return !ratio; });
  for (int i = 0; chokes && good > 0 && i < halvings; ++i) {
    const double middle = (good + bad) / 2;
    const std::optional<double> ratio = judged_ratio(judge, with_load(motor, middle, loads[0]));
    (ratio ? good : bad) = middle;
    if (ratio) nodes.push_back({middle, *ratio});
  }
  Carry carry(nodes);
  if (chokes) carry.choke_from(bad);
  return carry;
}

/// One motor of those among which the check chooses.
struct Candidate {
  double away = 0;  ///< of the logarithm of its carried peak from the ceiling's
  Draw draw;
  double carried = 0;  ///< Pa
  double ratio = 1;
  double load = 0;
};

std::vector<Candidate> candidates(const FiringGround& ground, const Inputs& inputs,
                                  std::uint64_t seed) {
  const std::size_t dimensions = std::max<std::size_t>(1, inputs.dimensions());
  const SobolPoints points(dimensions, log2_candidates);
  const Scramble scramble(dimensions, seed, own_scramble);
  std::vector<double> point(dimensions);
  std::vector<Candidate> all;
  QuickFiring trial(ground);
  for (std::size_t i = 0; i < points.count(); ++i) {
    Candidate one;
    scramble.fill(points, i, 0, point);
    inputs.stray(point);
    inputs.draw(point, one.draw);
    trial.take(one.draw);
    if (trial.port_chokes()) continue;
    one.carried = trial.peak_pressure();
    one.ratio = trial.ratio();
    one.load = trial.port_load();
    all.push_back(std::move(one));
  }
  return all;
}

/// Those nearest the ceiling, or the 95th percentile where there is none.
void keep_nearest(std::vector<Candidate>& all, std::optional<double> ceiling, std::size_t count) {
  if (all.empty()) return;
  if (!ceiling) {
    std::vector<double> peaks;
    for (const Candidate& one : all) peaks.push_back(one.carried);
    std::ranges::sort(peaks);
    ceiling = percentile(peaks, 0.95);
  }
  for (Candidate& one : all) one.away = std::abs(std::log(one.carried / *ceiling));
  std::ranges::stable_sort(all, {}, &Candidate::away);
  if (all.size() > count) all.resize(count);
}

}  // namespace

LoadRange load_range(const FiringGround& ground, const Inputs& inputs) {
  QuickFiring trial(ground);
  std::vector<double> departures(inputs.dimensions());
  LoadRange range{std::numeric_limits<double>::infinity(), 0};
  const auto take = [&](double sign, FaultSet faults) {
    for (const Input& input : inputs.all()) {
      const double way = input.kind == InputKind::throat ? sign
                         : input.kind == InputKind::core ? -sign
                                                         : 0;
      for (std::size_t d = input.first; d < input.first + input.size; ++d) {
        departures[d] = way * inputs.spreads()[d].limit();
      }
    }
    Draw draw;
    inputs.draw(departures, draw);
    draw.faults = faults;
    trial.take(draw);
    range.least = std::min(range.least, trial.port_load());
    range.greatest = std::max(range.greatest, trial.port_load());
  };
  FaultSet together = 0;
  for (std::size_t i = 0; i < ground.faults().size(); ++i) {
    const FaultSet fault = FaultSet{1} << i;
    if (ground.faults()[i].probability == 0) continue;
    together |= fault;
    for (double sign : {-1.0, 1.0}) take(sign, fault);
  }
  for (double sign : {-1.0, 1.0}) {
    take(sign, 0);
    take(sign, together);
  }
  return range;
}

Motor whole_motor(const FiringGround& ground, const Draw& draw) {
  QuickFiring trial(ground);
  trial.take(draw);
  Motor motor = trial.motor();
  // Thrust strays past what a nozzle can give; the pressure that is judged here knows nothing of
  // it.
  motor.nozzle.efficiency = std::min(motor.nozzle.efficiency, 1.0);
  motor.grain.layers.clear();
  for (const ScenePiece& piece : ground.scene(draw.faults).pieces) {
    constexpr double rounding = 1e-9;
    const double count =
        piece.round_up ? std::ceil(piece.count - rounding) : std::floor(piece.count + rounding);
    if (count < 1) continue;
    const Segment segment = piece.segment.core ? piece.segment : strayed(piece, draw);
    motor.grain.layers.push_back({segment, static_cast<int>(count)});
  }
  return motor;
}

Carry carry_of(const PeakJudge& judge, const FiringGround& ground, const Inputs& inputs,
               unsigned threads) {
  const Motor& motor = ground.motor();
  QuickFiring trial(ground);
  trial.take(inputs.nominal());
  // What cannot be judged at all is thrown on from here.
  const std::optional<double> as_drawn = judge.peak(motor);
  const std::vector<double> loads = loads_between(load_range(ground, inputs), trial.port_load());
  const std::size_t faults = cheap(motor) ? ground.faults().size() : 0;
  std::vector<std::optional<double>> ratios(loads.size());
  std::vector<std::optional<double>> of_fault(faults);
  std::vector<double> fault_load(faults);
  if (as_drawn) ratios[0] = *as_drawn / trial.steady_peak();
  in_parallel(
      loads.size() - 1 + faults, threads,
      [&](std::size_t i) {
        if (i + 1 < loads.size()) {
          ratios[i + 1] = judged_ratio(judge, with_load(motor, loads[i + 1], loads[0]));
          return;
        }
        const std::size_t f = i + 1 - loads.size();
        Draw draw = inputs.nominal();
        draw.faults = FaultSet{1} << f;
        QuickFiring own(ground);
        own.take(draw);
        fault_load[f] = own.port_load();
        of_fault[f] = judged_ratio(judge, whole_motor(ground, draw));
      },
      [](std::size_t) {});
  Carry carry = from_nodes(judge, motor, loads, ratios);
  for (std::size_t f = 0; f < faults; ++f) {
    const bool chokes = !of_fault[f];
    carry.add_fault({chokes ? 1 : *of_fault[f] / carry.ratio_of(fault_load[f]), chokes});
  }
  return carry;
}

JudgedPeaks check_in_full(const ScatterTask& task, FiringGround& ground, const Inputs& inputs,
                          std::uint64_t seed, unsigned threads) {
  JudgedPeaks judged;
  judged.model = task.judge->model;
  QuickFiring trial(ground);
  trial.take(inputs.nominal());
  judged.ratio = trial.ratio();
  std::vector<Candidate> all = candidates(ground, inputs, seed);
  keep_nearest(all, task.ceiling, cheap(task.motor) ? checks : dear_checks);
  std::vector<std::optional<double>> full(all.size());
  in_parallel(
      all.size(), threads,
      [&](std::size_t i) { full[i] = judged_ratio(*task.judge, whole_motor(ground, all[i].draw)); },
      [](std::size_t) {});
  for (std::size_t i = 0; i < all.size(); ++i) {
    // A port that chokes sooner than the carry has it.
    if (!full[i]) ground.carry().choke_from(all[i].load);
    const double difference = full[i] ? *full[i] / all[i].ratio - 1 : 0;
    judged.greatest_difference = std::max(judged.greatest_difference, std::abs(difference));
    judged.raised = std::max(judged.raised, difference);
    ground.carry().raise_by(difference, all[i].draw.faults);
    if (!task.ceiling) continue;
    judged.over_carried += all[i].carried > *task.ceiling ? 1 : 0;
    judged.over_in_full += !full[i] || all[i].carried * (1 + difference) > *task.ceiling ? 1 : 0;
  }
  judged.checked = static_cast<int>(all.size());
  return judged;
}

}  // namespace grainwright
