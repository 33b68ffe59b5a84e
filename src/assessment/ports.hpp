// SPDX-License-Identifier: GPL-3.0-or-later
//
// The flow along the ports, by the axial firing where planes show the cores, else in closed form
// and to the safe side.
#pragma once

#include <optional>

#include "grainwright/assessment/assessment.hpp"
#include "grainwright/firing/axial.hpp"

namespace grainwright {

struct PortStudy {
  Ports ports;
  std::optional<Firing> axial;  ///< where it was followed, or until a port choked
};

/// Whether a port chokes at ignition and no more, in closed form and to the safe side.
[[nodiscard]] PortStudy glance_at_ports(const PreparedMotor& motor);

/// Throws InputError where slag closes the throat.
[[nodiscard]] PortStudy study_ports(const PreparedMotor& motor, const AxialOptions& options);

}  // namespace grainwright
