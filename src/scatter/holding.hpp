// SPDX-License-Identifier: GPL-3.0-or-later
//
// What each part holds, hot, without conducting heat anew for every draw: in full for a few motors
// that burn faster and slower than drawn, between them by their burn time, which is what heat goes
// by; a mistake scales that by what it does to the motor as drawn.
#pragma once

#include <string>
#include <vector>

#include "grainwright/strength/margins.hpp"
#include "quick_firing.hpp"

namespace grainwright {

enum class HeldPart : std::size_t { pipe, head, nozzle };
inline constexpr std::size_t most_parts = 3;

/// One part of one firing.
struct PartState {
  HeldPart part = HeldPart::pipe;
  std::string mode;
  double ratio = 0;
};

/// The weakest way of each part that there is.
[[nodiscard]] std::vector<PartState> states_of(const Margins& margins);
[[nodiscard]] std::string name_of(HeldPart part);

class Holding {
 public:
  /// `log_sigma` of the peak pressure says how far the motors of the table lie apart.
  Holding(const Shell& shell, const FiringGround& ground, const Draw& nominal, double log_sigma,
          unsigned threads);

  [[nodiscard]] std::size_t parts() const { return as_drawn_.size(); }
  [[nodiscard]] const std::vector<PartState>& as_drawn() const { return as_drawn_; }
  [[nodiscard]] const std::vector<PartState>& with_mistake(std::size_t fault) const {
    return mistakes_[fault];
  }
  /// The peak pressure above ambient that a part would just hold in a firing that lasts so long,
  /// Pa.
  [[nodiscard]] double holds(std::size_t part, FaultSet faults, double burn_time) const;

 private:
  [[nodiscard]] double as_drawn_holds(std::size_t part, double burn_time) const;

  std::vector<PartState> as_drawn_;
  std::vector<std::vector<PartState>> mistakes_;
  std::vector<double> log_time_;                // of the table, rising
  std::vector<std::vector<double>> log_holds_;  // a part each
  std::vector<std::vector<double>> scale_;      // a mistake, a part
};

/// Margins of a draw in full.
[[nodiscard]] Margins margins_of(const Shell& shell, const FiringGround& ground, const Draw& draw);

}  // namespace grainwright
