// SPDX-License-Identifier: GPL-3.0-or-later
#include "carry.hpp"

#include <algorithm>
#include <cmath>

namespace grainwright {
namespace {

// Near a load of 1 the Mach number goes to 1 with the root of what is left, and the ratio with it:
// in this measure both are smooth.
double place_of(double load) {
  return 1 - std::sqrt(std::max(0.0, 1 - load));
}

}  // namespace

Carry::Carry(std::vector<Node> nodes) {
  std::ranges::sort(nodes, {}, &Node::load);
  for (const Node& node : nodes) {
    const double place = place_of(node.load);
    if (!place_.empty() && place <= place_.back()) continue;
    place_.push_back(place);
    ratio_.push_back(node.ratio);
  }
}

double Carry::ratio_of(double load) const {
  if (place_.empty()) return 1;
  const double x = place_of(load);
  if (place_.size() == 1 || x <= place_.front()) return ratio_.front();
  const auto above = std::ranges::lower_bound(place_, x);
  // Past the last node the ratio goes on rising: not so would be the kinder error.
  const auto i = static_cast<std::size_t>(std::min(above - place_.begin(), std::ssize(place_) - 1));
  const double share = (x - place_[i - 1]) / (place_[i] - place_[i - 1]);
  return std::max(ratio_[i] * (share > 1 ? 1 : 0), std::lerp(ratio_[i - 1], ratio_[i], share));
}

double Carry::ratio(double load, FaultSet faults) const {
  double ratio = ratio_of(load);
  for (std::size_t i = 0; i < factor_.size() && faults != 0; ++i, faults >>= 1U) {
    if ((faults & 1U) != 0) ratio *= factor_[i];
  }
  return ratio;
}

double Carry::raise(FaultSet faults) const {
  if (faults == 0) return raise_.front();
  double most = 1;
  for (std::size_t i = 1; i < raise_.size() && faults != 0; ++i, faults >>= 1U) {
    if ((faults & 1U) != 0) most = std::max(most, raise_[i]);
  }
  return most;
}

void Carry::raise_by(double share, FaultSet faults) {
  const auto raise = [&](std::size_t i) {
    if (raise_.size() <= i) raise_.resize(i + 1, 1);
    raise_[i] = std::max(raise_[i], 1 + share);
  };
  if (faults == 0) raise(0);
  for (std::size_t i = 1; faults != 0; ++i, faults >>= 1U) {
    if ((faults & 1U) != 0) raise(i);
  }
}

void Carry::add_fault(const OfFault& fault) {
  if (fault.chokes) choking_ |= FaultSet{1} << factor_.size();
  factor_.push_back(fault.factor);
}

}  // namespace grainwright
