// SPDX-License-Identifier: GPL-3.0-or-later
//
// What gives first: the pipe, the head closure or the nozzle's seat; when in the burn, and by what
// margin, with each part as hot as it is at that moment. See docs/strength.md.
//
// ratio = capacity at the moment's temperature / load at the moment; a part's is its least over the
// firing. Loads are of pressure above ambient.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/motor/motor.hpp"
#include "grainwright/strength/joint.hpp"
#include "grainwright/strength/material.hpp"
#include "grainwright/strength/tube.hpp"

namespace grainwright {

/// A layer between the gas and a part.
struct Protection {
  Material material;
  double thickness = 0;  ///< m
};

/// What closes one end of the pipe, and how it is held there.
struct Closure {
  Material material;
  double thickness = 0;                ///< m, along the axis
  double seal_diameter = 0;            ///< m; the chamber's pressure acts inside it
  std::vector<Protection> protection;  ///< gas side first
  std::optional<double> coefficient;   ///< of the gas at its face, W/(m2 K); else the shell's
  Joint joint;
};

/// The coefficient of the gas where none is given: Bartz's formula at the bore, or pipe flow.
enum class GasEstimate { bartz, pipe_flow };

/// Everything that holds the pressure in.
struct Shell {
  Tube tube;
  Material material;
  std::vector<Protection> liner;  ///< the casting tube
  std::optional<Closure> head;    ///< not judged where left out
  std::optional<Closure> nozzle;
  GasEstimate estimate = GasEstimate::bartz;
  std::optional<double> coefficient;      ///< W/(m2 K), while gas flows; else the estimate
  std::optional<double> gas_temperature;  ///< K; else the propellant's flame temperature
  double factor = 2;                      ///< asked of every ratio
  double length = 0;                      ///< m, of the whole pipe; 0 where unknown
  double grain_room = 0;                  ///< m, of that length
};

[[nodiscard]] std::vector<Complaint> complaints(const Shell& shell);
/// With what the motor does not say.
[[nodiscard]] std::vector<Complaint> complaints(const Shell& shell, const Motor& motor);

/// One way in which a part lets go, at its worst moment.
struct ModeMargin {
  std::string mode;
  double load = 0;         ///< N, or Pa for the pipe
  double capacity = 0;     ///< the same, at the moment's temperature
  double ratio = 0;        ///< capacity / load
  double at = 0;           ///< s
  double temperature = 0;  ///< K, of the hottest place that counts for it
  double cold_ratio = 0;   ///< cold capacity / greatest load
  double thrust = 0;       ///< N, what the thrust takes off the load then; only of a nozzle's seat
  bool heat_known = true;  ///< whether it is known how its material weakens; else taken as cold
};

/// The hottest place of a part's joint, or the pipe's bore.
struct PartHeat {
  double at_peak_pressure = 0;  ///< K
  double at_burnout = 0;        ///< K
  double greatest = 0;          ///< K, during the burn or long after it
  double greatest_at = 0;       ///< s
};

/// The margins of one part.
struct PartMargin {
  std::string part;               ///< "pipe", "head closure" or "nozzle seat"
  bool force = true;              ///< loads in N; else in Pa
  std::vector<ModeMargin> modes;  ///< what gives first, first
  PartHeat heat;
  [[nodiscard]] const ModeMargin& weakest() const { return modes.front(); }
};

/// The answer for the whole motor.
struct Margins {
  std::vector<PartMargin> parts;  ///< what gives first, first
  double factor = 0;
  /// Highest chamber pressure, absolute, at which every ratio is the factor, for a firing as long
  /// and as hot as this one. Pa.
  double allowed_pressure = 0;
  double coefficient = 0;  ///< of the gas in the chamber at peak pressure, W/(m2 K)
  std::vector<std::string> remarks;

  [[nodiscard]] const PartMargin& weakest() const { return parts.front(); }
  [[nodiscard]] double ratio() const { return weakest().weakest().ratio; }
  /// Whether every ratio is at least the factor.
  [[nodiscard]] bool hold() const { return ratio() >= factor; }
};

/// Margins over a firing, by whatever model its curve was made. Throws InputError with the
/// complaints.
[[nodiscard]] Margins margins(const Shell& shell, const Motor& motor, const Curve& curve);

/// The margins over the hardest of several firings of one motor, and which one that is.
struct HardestMargins {
  Margins margins;
  std::size_t firing = 0;
};
/// Likewise; at least one curve. A part that is not the weakest may be weaker in another firing.
[[nodiscard]] HardestMargins margins_over(const Shell& shell, const Motor& motor,
                                          const std::vector<Curve>& curves);

/// The weakest part, cold, divided by the factor: a ceiling before any firing is known. The
/// thrust's share of the load on the nozzle is left out, which is cautious.
struct ColdCeiling {
  double pressure = 0;  ///< Pa, absolute
  std::string part = {};
  std::string mode = {};
};
[[nodiscard]] ColdCeiling cold_ceiling(const Shell& shell, double ambient_pressure);

}  // namespace grainwright
