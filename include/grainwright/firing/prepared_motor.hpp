// SPDX-License-Identifier: GPL-3.0-or-later
//
// A motor made ready to be fired: how its grain burns back, its chamber on its day, and the figures
// of its steady firing, worked out once and handed to every model.
#pragma once

#include "grainwright/firing/firing.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/grain/burnback.hpp"
#include "grainwright/motor/motor.hpp"

namespace grainwright {

/// A value: what it holds does not change. Every function that takes one takes a plain motor as
/// well, which is then made ready for that call alone.
class PreparedMotor {
 public:
  /// Throws InputError with the motor's complaints.
  PreparedMotor(Motor motor);  // NOLINT(google-explicit-constructor): see above

  [[nodiscard]] const Motor& motor() const { return motor_; }
  [[nodiscard]] const Burnback& burnback() const { return burnback_; }
  [[nodiscard]] const SteadyChamber& chamber() const { return chamber_; }
  /// Figures of the steady firing.
  [[nodiscard]] const Summary& steady() const { return steady_; }

 private:
  Motor motor_;
  Burnback burnback_;
  SteadyChamber chamber_;
  Summary steady_;
};

/// The whole steady firing.
[[nodiscard]] Firing fire_steady(const PreparedMotor& motor, const SteadyOptions& options = {});

}  // namespace grainwright
