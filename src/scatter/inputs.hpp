// SPDX-License-Identifier: GPL-3.0-or-later
//
// What varies, as dimensions of a unit cube: a point of it is one motor's departure from the one as
// drawn. Strengths are no dimensions: their chance is worked out in closed form at each load.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "grainwright/motor/motor.hpp"
#include "grainwright/scatter/fault.hpp"
#include "grainwright/scatter/tolerances.hpp"

namespace grainwright {

/// A size that has strayed: nominal * factor + added.
struct Stray {
  double factor = 1;
  double added = 0;
  [[nodiscard]] double of(double nominal) const { return nominal * factor + added; }
};

/// Which mistakes happened, one bit each.
using FaultSet = std::uint64_t;
inline constexpr std::size_t most_faults = 64;

/// One motor's departure.
struct Draw {
  double burn_rate = 1;  ///< factors
  double density = 1;
  double characteristic_velocity = 1;
  double efficiency = 1;
  double temperature = 0;  ///< K added
  Stray throat = {};
  std::vector<Stray> core = {};     ///< a layer each
  std::vector<double> offset = {};  ///< m of each layer's cores from the axis
  std::vector<Stray> length = {};   ///< a layer each, of the mean of its segments
  FaultSet faults = 0;
};

enum class InputKind {
  burn_rate,
  density,
  characteristic_velocity,
  efficiency,
  temperature,
  throat,
  core,
  core_offset,
  length,
  fault
};

/// One cause of spread, and its dimensions: several where it strays several times in one motor.
struct Input {
  InputKind kind = InputKind::burn_rate;
  std::string name;
  std::string key;  ///< of the job, "tolerance.burn_rate" or "fault 2"
  Spread spread = {};
  std::size_t fault = 0;  ///< of a mistake: its index
  std::size_t first = 0;  ///< dimension
  std::size_t size = 1;
};

class Inputs {
 public:
  Inputs(const Motor& motor, const Tolerances& tolerances, const std::vector<Fault>& faults);

  /// Those that vary at all. A mistake without probability is none of them.
  [[nodiscard]] std::span<const Input> all() const { return all_; }
  [[nodiscard]] std::size_t dimensions() const { return spread_.size(); }
  /// How each dimension strays; a mistake happens toward the upper end of its own.
  [[nodiscard]] std::span<const Spread> spreads() const { return spread_; }
  /// The motor as drawn.
  [[nodiscard]] const Draw& nominal() const { return nominal_; }

  /// Turns a point of the cube into how far each of its dimensions strays.
  void stray(std::span<double> point) const;
  /// The motor that has strayed so.
  void draw(std::span<const double> departures, Draw& result) const;
  /// The same motor with one input as drawn again.
  void hold(const Input& input, Draw& draw) const;

 private:
  void move(const Input& input, std::size_t dimension, double departure, Draw& draw) const;
  void add(Input input);

  std::vector<Input> all_;
  std::vector<Spread> spread_;                 // of each dimension
  std::vector<double> probability_;            // of each mistake
  std::vector<std::vector<std::size_t>> rod_;  // layers of each core rod
  std::vector<double> count_root_;             // of each layer: sqrt of its count
  Draw nominal_;
};

}  // namespace grainwright
