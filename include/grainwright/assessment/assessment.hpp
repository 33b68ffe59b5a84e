// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a motor is, judged once: fired by every model that can follow it, held against every limit,
// its parts against their loads, hot; its flight against its bounds; and every hazard looked for.
// Whoever prints a motor prints what stands here, so that no two answers on it disagree.
//
// The headline pressure is the highest peak of the models that ran, at the head end.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/assessment/limits.hpp"
#include "grainwright/assessment/verdict.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/flight/airframe.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/motor/casing.hpp"
#include "grainwright/scatter/scatter.hpp"
#include "grainwright/strength/margins.hpp"

namespace grainwright {

/// Models of a firing.
enum class Model { steady, transient, axial };
/// "steady", "transient" or "axial".
[[nodiscard]] std::string_view name_of(Model model);

/// What the source of a question took for granted, and the key that changes it.
struct Assumption {
  std::string key;
  std::string words;
};

/// A motor, and all that it is to be held against. Plain values: a job hands them out, and so may
/// anyone else.
struct Question {
  PreparedMotor motor;
  Lighting lighting = {};
  std::optional<Casing> casing = {};  ///< the stack has to fit it
  Limits limits = {};
  Bounds bounds = {};
  std::optional<Shell> shell = {};  ///< strength is judged where it is known, hot
  bool factor_asked = false;        ///< a strength factor is asked, whether a shell is known or not
  std::optional<Airframe> airframe = {};
  Tolerances tolerances = {};
  std::vector<Fault> faults = {};
  double length_tolerance = 0;  ///< m, plus or minus, of each segment
  std::vector<Assumption> assumed = {};
};

/// How the flow along the ports was found.
enum class PortFlow {
  none,       ///< no port: a solid segment
  followed,   ///< by the axial firing
  estimated,  ///< a core that planes do not show: all gas through the narrowest port, closed form
  chokes,     ///< before the throat: no figure of such a motor can be believed
};

/// The gas in the ports.
struct Ports {
  PortFlow flow = PortFlow::none;
  std::optional<ChokedPort> choked = {};
  double head_ratio = 1;  ///< head pressure over the pressure at the nozzle, maximum
  double mach = 0;        ///< maximum
  double mass_flux = 0;   ///< kg/(m2 s), maximum of all models
};

/// A figure and the model that gave it.
struct Judged {
  double value = 0;  ///< SI
  Model model = Model::transient;
};

/// All that was found.
struct Assessment {
  Summary steady;               ///< as the search sees it
  Firing firing;                ///< transient, lit as the question says
  std::optional<Firing> axial;  ///< where the ports can be followed to the end
  Ports ports;
  Judged peak_pressure;  ///< Pa, at the head end, the highest of all models: the headline
  /// Where a shell is known and all is there to judge it; over the harder of the firings.
  std::optional<Margins> margins;
  Model margins_over = Model::transient;
  std::optional<Flight> flight;          ///< on the transient thrust, where there is an airframe
  std::optional<ScatterResult> scatter;  ///< where a confidence is asked, or the caller wants it
  std::vector<Check> checks;  ///< every limit and bound that is asked and could be looked at
  std::vector<std::string> remarks;
  Verdict verdict;
};

/// Whence the headline pressure: "axial model", "steady model", ..., or "estimate" where no axial
/// firing shows the core.
[[nodiscard]] std::string source_of_peak(const Assessment& found);

/// How much to find out.
struct AssessmentOptions {
  /// For a curve that moves under a hand: the transient firing and what it breaks. Flow along the
  /// ports, strength and scatter are left out, so that the verdict is never a yes.
  bool glance = false;
  UnitSystem units = UnitSystem::si;  ///< of the words
  int slices = 20;                    ///< of the axial model
  bool scatter = false;               ///< also where no confidence is asked
  ScatterOptions scattering = {};     ///< the verdict on a confidence goes by it
};

/// Judges a motor. Throws InputError where the airframe, the tolerances or the lighting make no
/// sense, or where slag closes the throat; what a shell lacks to be judged is a reason in
/// `Verdict::not_judged` instead.
[[nodiscard]] Assessment assess(const Question& question, const AssessmentOptions& options = {});

/// The scatter of this motor, its peaks carried to the models by which it is judged here.
[[nodiscard]] ScatterTask scatter_task_of(const Question& question);

/// The highest peak of all models, Pa at the head end; nothing where a port chokes.
[[nodiscard]] std::optional<double> judged_peak(const PreparedMotor& motor,
                                                const Lighting& lighting);

/// The firings over which its strength is judged: the transient one, as high as the head end where
/// the axial cannot show that, and the axial one where it peaks higher. Nothing where a port
/// chokes.
[[nodiscard]] std::optional<std::vector<Curve>> hard_firings(const PreparedMotor& motor,
                                                             const Lighting& lighting);

// Rules of thumb: common practice, no source.

/// Ports this narrow over the throat, gas this fast, or this much of it, are known for erosive
/// burning. kg/(m2 s): 2 lb/(s in2).
inline constexpr double eroding_port = 1.5;
inline constexpr double eroding_mach = 0.4;
inline constexpr double eroding_mass_flux = 1406.14;
/// From here on a small change of burning area is a large one of pressure.
inline constexpr double steep_exponent = 0.85;
/// A grain this far from the law's temperature burns at another rate, K.
inline constexpr double telling_temperature_step = 5;
/// A law may be carried on past its published range by this share of its end.
inline constexpr double carried_law = 0.1;
/// Castings with more voids than this leave burn inside as well; as cast / ideal density.
inline constexpr double porous_density_ratio = 0.9;
/// Slower off the rail than this, few rockets fly straight, m/s.
inline constexpr double slow_rail_exit = 15;
/// A chance over the ceiling that deserves a word where no confidence is asked.
inline constexpr double telling_chance = 0.05;

}  // namespace grainwright
