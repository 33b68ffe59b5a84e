// SPDX-License-Identifier: GPL-3.0-or-later
//
// Steady flow of chamber gas through the ports of a grain, one cross-section at a time: mass,
// momentum and energy in closed form.
//
// All gas enters at rest and at flame temperature, so that the energy balance leaves the stagnation
// temperature the same everywhere. Adding mass in a port keeps p + flow u / area (A. H. Shapiro,
// The Dynamics and Thermodynamics of Compressible Fluid Flow, vol. 1, simple mass addition, from
// memory); a sudden widening keeps p A + flow u on the wider area (Borda-Carnot); a narrowing is
// isentropic. No friction. Each function gives nothing where the flow would choke in the port.
#pragma once

#include <limits>
#include <optional>

namespace grainwright {

/// The gas: gamma, and R T0 in J/kg.
struct PortGas {
  double gamma = 0;
  double heat = 0;
};

/// The flow in a cross-section; at rest (the head end) the area is infinite.
struct Stream {
  double area = std::numeric_limits<double>::infinity();  ///< m2
  double flow = 0;                                        ///< kg/s
  double pressure = 0;                                    ///< Pa, static
  double mach = 0;

  [[nodiscard]] double mass_flux() const { return flow / area; }  ///< kg/(m2 s)
};

/// Pa.
[[nodiscard]] double stagnation_pressure(const PortGas& gas, const Stream& stream);

/// The same cross-section after `added` kg/s have joined at rest.
[[nodiscard]] std::optional<Stream> after_adding(const PortGas& gas, const Stream& stream,
                                                 double added);

/// The stream in a port of another area, `added` kg/s having joined at rest between: sudden where
/// it widens, isentropic where it narrows.
[[nodiscard]] std::optional<Stream> after_entering(const PortGas& gas, const Stream& stream,
                                                   double area, double added);

/// The stream after a slight, gradual change of area: the wall bears the mean of both pressures.
/// Agrees with isentropic flow to the third order of the change.
[[nodiscard]] std::optional<Stream> after_easing(const PortGas& gas, const Stream& stream,
                                                 double area);

}  // namespace grainwright
