// SPDX-License-Identifier: GPL-3.0-or-later
//
// What `fire` predicts of one job: the model that was asked for, and what the others say of it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/job/job.hpp"
#include "page.hpp"

namespace grainwright::cli {

enum class Model { steady, transient, axial };

[[nodiscard]] std::string_view name_of(Model model);
/// Throws InputError that names --model.
[[nodiscard]] Model read_model(const std::string& name);

/// Figures that differ by more than this between models deserve a line.
inline constexpr double worth_a_line = 0.03;

struct Prediction {
  Model model = Model::transient;
  Firing firing;                    ///< with the remarks of the job and of all models
  double steady_peak = 0;           ///< Pa, peak pressure of the steady firing
  std::optional<Firing> axial;      ///< beside a transient firing, where the ports allow one
  bool chokes = false;              ///< in a port, before the throat: no axial firing
  std::vector<std::string> others;  ///< what another model would have said, where it differs

  /// The figures that limits are held against: the highest pressure and mass flux of any model.
  [[nodiscard]] Summary judged() const;
  /// What must be held: the axial firing where its head pressure peaks over the steady one's by
  /// more than `worth_a_line`.
  [[nodiscard]] const Firing& hardest() const;
};

/// `slices` are those of the axial model.
[[nodiscard]] Prediction predict(const Job& job, Model model, int slices);

/// The firing over which strength is judged: the transient one of a motor lit as the job says, or
/// the axial one where that is the harder, as `Prediction::hardest`.
[[nodiscard]] Firing hardest_firing(const Job& job, const Motor& motor);
/// "transient", or "axial", for what that gave.
[[nodiscard]] Model model_of(const Firing& firing);

/// Lighting, tail and ports, where the prediction has them.
void tell(Page& page, const Prediction& prediction, UnitSystem units);

}  // namespace grainwright::cli
