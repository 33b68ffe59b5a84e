// SPDX-License-Identifier: GPL-3.0-or-later
//
// The gas of a sliced stack at one moment: what each front burns, and the head pressure at which
// the throat passes it all.
#pragma once

#include <optional>

#include "axial_stack.hpp"
#include "grainwright/firing/firing.hpp"
#include "grainwright/firing/port_flow.hpp"
#include "joined_law.hpp"
#include "throat.hpp"

namespace grainwright {

/// One moment of the flow.
struct AxialMoment {
  double head_pressure = 0;    ///< Pa
  double nozzle_pressure = 0;  ///< Pa, stagnation
  double outflow = 0;          ///< kg/s
  double port_mach = 0;        ///< greatest
  double mass_flux = 0;        ///< greatest, kg/(m2 s)
  double rate_gain = 1;        ///< greatest
};

/// Thrown where a port would choke before the throat; it does not leave this room.
struct PortChokes {
  ChokedPort port;
};

class AxialFlow {
 public:
  /// `burnout` is the web of the whole motor, m, which a factor over the web is told by.
  AxialFlow(const Motor& motor, double burnout);

  /// Rates of all fronts (m/s, as many as the stack has webs) and the moment. A profile is filled
  /// when asked for. `guess` is a head pressure to start from. Throws PortChokes.
  AxialMoment solve(const AxialStack& stack, const Webs& webs, double time, double guess,
                    Webs& rates, PortProfile* profile = nullptr) const;

 private:
  class March;
  [[nodiscard]] double rate(double pressure, double mass_flux, double web) const;
  [[nodiscard]] double still_rate(double pressure, double web) const {
    const double plain = law_.rate(pressure);
    return web_factor_ ? plain * (*web_factor_)(web / burnout_) : plain;
  }
  [[nodiscard]] double stiffness(double pressure) const;
  /// Throws where a port chokes just below this head pressure.
  void check_ports(const AxialStack& stack, const Webs& webs, double time, double head) const;

  PortGas gas_;
  JoinedLaw law_;
  std::optional<WebFactor> web_factor_;
  double burnout_;
  Throat throat_;
  std::optional<Erosion> erosion_;
  double density_;
  double stack_length_;
};

}  // namespace grainwright
