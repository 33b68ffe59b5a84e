// SPDX-License-Identifier: GPL-3.0-or-later
//
// Judges one build at a time in every throat of the shop. Not shared between threads: it keeps its
// working space and what one build's throats have in common.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "judge.hpp"
#include "lattice.hpp"
#include "profile_fit.hpp"

namespace grainwright {

/// One throat of the shop with its chamber and the burning areas that its pressure limits allow.
struct ShopThroat {
  double diameter = 0;
  SteadyChamber chamber;
  double least_area = 0;  ///< under this the pressure falls under the floor, m2
  double most_area = 0;   ///< over this it rises above the ceiling, m2
  double lifted_out = 0;  ///< N, what the thinner air of the launch adds to a full nozzle's thrust
};

/// The throats of a task that its nozzle can have (no wider than the exit).
[[nodiscard]] std::vector<ShopThroat> throats_of(const SearchTask& task);

struct Evaluation {
  LimitedFigures figures;
  double misfit = 0;  ///< as Design has it
};

class Evaluator {
 public:
  /// The task and the throats must outlive the evaluator.
  Evaluator(const SearchTask& task, std::span<const ShopThroat> throats);

  [[nodiscard]] std::span<const SetLimit> rows() const { return rows_; }
  [[nodiscard]] std::span<const ShopThroat> throats() const { return throats_; }

  /// Takes a build in hand, which must outlive it there. Costs little: nothing is integrated yet.
  void take(std::span<const Group> groups);
  /// False when this throat surely breaks the task's pressure limits, loading or room.
  [[nodiscard]] bool may_fit(const ShopThroat& throat) const;
  /// The figures known before integration; the rest are 0.
  [[nodiscard]] LimitedFigures early_figures(const ShopThroat& throat) const;
  /// The firing, integrated; `early` are the early figures for this throat.
  [[nodiscard]] Evaluation evaluate(const ShopThroat& throat, const LimitedFigures& early);
  /// The same, but nothing where a limit on the firing is broken.
  [[nodiscard]] std::optional<Evaluation> evaluate_if_allowed(const ShopThroat& throat);
  /// Adds the figures of the flight, as far as a limit is set on them.
  void fly(const ShopThroat& throat, LimitedFigures& figures) const;
  /// False where the flight breaks a limit. By far the dearest: ask it last.
  [[nodiscard]] bool flies_as_asked(const ShopThroat& throat, LimitedFigures& figures) const;

 private:
  void lay_stretches();
  void lay_bent_stretches();
  /// Just after a web, the webs rising from call to call.
  [[nodiscard]] Quadratic area_from(double web);
  void take_range(double slivers);
  [[nodiscard]] double slivers_from() const;
  [[nodiscard]] double shortfall(double impulse) const;
  [[nodiscard]] FitSums sums(const ShopThroat& throat);
  [[nodiscard]] double mass_flux(const ShopThroat& throat);

  const SearchTask& task_;
  std::span<const ShopThroat> throats_;
  std::vector<SetLimit> rows_;
  ProfileFit fit_;
  double room_volume_;
  bool wants_mass_flux_;
  double ideal_impulse_;  // of the room full of propellant, in the shop's best throat

  std::span<const Group> groups_;
  std::vector<const Group*> by_burnout_;
  std::vector<Stretch> stretches_;
  AreaRange range_;           // as Burnback::range
  double least_burning_ = 0;  // slivers too, m2
  std::vector<double> cuts_;  // of bent stretches
  std::vector<std::size_t> at_;
  std::optional<Burnback> burnback_;  // made where the mass flux is wanted
  double initial_area_ = 0;
  double stack_length_ = 0;
  double loading_ = 0;
  double smallest_port_ = 0;
  double propellant_volume_ = 0;

  // Pressure sums of the build in hand for one band power, from the throat they were made for.
  struct Shared {
    const SteadyChamber* chamber = nullptr;
    const SteadyChamber::Band* band = nullptr;
    FitSums sums;
  };
  std::vector<Shared> shared_;
};

}  // namespace grainwright
