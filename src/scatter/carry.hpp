// SPDX-License-Identifier: GPL-3.0-or-later
//
// From the steady peak pressure to the one by which a motor is judged: their ratio, read off by the
// load of the busiest port, which is what the pressure drop along the ports goes by; a mistake has
// a factor of its own. See docs/scatter.md.
#pragma once

#include <limits>
#include <vector>

#include "inputs.hpp"

namespace grainwright {

class Carry {
 public:
  /// Steady peaks as they are; a port chokes by the rule of areas.
  Carry() = default;

  /// A motor fired by the judged model.
  struct Node {
    double load = 0;  ///< of its busiest port (port_load.hpp), below 1
    double ratio = 1;
  };
  /// What a mistake alone does to the ratio that its port load has; nothing where it makes a port
  /// choke.
  struct OfFault {
    double factor = 1;
    bool chokes = false;
  };
  /// At least one node, in any order.
  explicit Carry(std::vector<Node> nodes);

  /// As fired by the judged model; 1 of a carry without nodes.
  [[nodiscard]] double ratio_of(double load) const;
  /// The same with mistakes.
  [[nodiscard]] double ratio(double load, FaultSet faults) const;
  /// Whether a port may choke before the throat.
  [[nodiscard]] bool chokes(double load, FaultSet faults) const {
    return load >= choke_load_ || (faults & choking_) != 0;
  }
  /// What the chances of motors with these mistakes raise it by, a factor.
  [[nodiscard]] double raise(FaultSet faults) const;

  void add_fault(const OfFault& fault);
  void choke_from(double load) { choke_load_ = std::min(choke_load_, load); }
  /// A motor with these mistakes was found to peak higher than carried by this share: none of its
  /// kind is told any lower.
  void raise_by(double share, FaultSet faults);

 private:
  std::vector<double> place_;  // of the nodes, rising
  std::vector<double> ratio_;
  std::vector<double> factor_;       // a mistake each
  std::vector<double> raise_ = {1};  // without mistakes, then a mistake each
  FaultSet choking_ = 0;
  double choke_load_ = 1;
};

}  // namespace grainwright
