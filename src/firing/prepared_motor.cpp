// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/prepared_motor.hpp"

#include <utility>

namespace grainwright {

PreparedMotor::PreparedMotor(Motor motor)
    : motor_(std::move(motor)),
      burnback_(burnback_of(motor_)),
      chamber_(motor_.propellant, motor_.nozzle, motor_.day),
      steady_(steady_summary(burnback_, chamber_)) {}

}  // namespace grainwright
