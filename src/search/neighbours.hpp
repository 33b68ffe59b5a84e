// SPDX-License-Identifier: GPL-3.0-or-later
//
// Climbing on the lattice: from a build to the best of its neighbours, until none is better.
#pragma once

#include <compare>
#include <optional>
#include <vector>

#include "evaluator.hpp"
#include "shortlist.hpp"

namespace grainwright {

/// What a broken limit weighs against misfit, per relative excess.
inline constexpr double broken_limit_weight = 100;

/// One segment on the lattice.
struct SawnPiece {
  int mandrel = 0;
  int bare_ends = 0;
  int steps = 0;
  auto operator<=>(const SawnPiece&) const = default;
};
using Pieces = std::vector<SawnPiece>;

class Climber {
 public:
  Climber(const StockedTask& task, std::span<const ShopThroat> throats, double step,
          Evaluator& evaluator);

  /// The top reached from a start, if it meets every limit. `order` settles ties on a shortlist.
  [[nodiscard]] std::optional<Found> climb(Pieces start, std::size_t order);
  [[nodiscard]] long long builds() const { return builds_; }

 private:
  struct Scored {
    double score = 0;
    std::size_t throat = 0;
  };
  [[nodiscard]] Scored score(const Pieces& pieces);
  [[nodiscard]] bool buildable(const Pieces& pieces) const;
  [[nodiscard]] std::vector<Pieces> neighbours(const Pieces& pieces) const;
  [[nodiscard]] std::vector<Group> groups_of(Pieces pieces) const;

  const StockedTask& task_;
  std::span<const ShopThroat> throats_;
  double step_;
  Evaluator& evaluator_;
  int shortest_;
  int longest_;
  long long builds_ = 0;
};

}  // namespace grainwright
