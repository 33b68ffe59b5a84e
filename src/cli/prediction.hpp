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

struct Prediction {
  Model model = Model::transient;
  Firing firing;                    ///< with the remarks of the job and of all models
  std::optional<Firing> axial;      ///< beside a transient firing, where the ports allow one
  std::vector<std::string> others;  ///< what another model would have said, where it differs

  /// The figures that limits are held against: the highest pressure and mass flux of any model.
  [[nodiscard]] Summary judged() const;
  /// The curve of the higher peak pressure, for what must hold it.
  [[nodiscard]] const Curve& hardest() const;
};

/// Figures that differ by more than this between models deserve a line.
inline constexpr double worth_a_line = 0.03;

/// `slices` are those of the axial model.
[[nodiscard]] Prediction predict(const Job& job, Model model, int slices);

/// Lighting, tail and ports, where the prediction has them.
void tell(Page& page, const Prediction& prediction, UnitSystem units);

}  // namespace grainwright::cli
