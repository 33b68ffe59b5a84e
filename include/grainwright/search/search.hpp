// SPDX-License-Identifier: GPL-3.0-or-later
//
// The search: which segments, cores, bare ends and throat give the asked thrust profile inside the
// room and under the limits, from the tooling that the builder owns. See docs/search.md.
//
// misfit = RMS over burn time of (F(t)/F_mean - asked profile of unit mean), steady firing. Where a
// build is asked for the rail there is no profile, and the most total impulse is best.
#pragma once

#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "grainwright/firing/firing.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/grain/grain.hpp"
#include "grainwright/motor/motor.hpp"
#include "grainwright/scatter/tolerances.hpp"
#include "grainwright/search/wish.hpp"

namespace grainwright {

/// Everything a search needs. `nozzle.throat_diameter` is replaced by each of `shop.throats`; the
/// exit stays as it is, and follows the throat where it is a straight hole (exit equal to throat).
struct SearchTask {
  Propellant propellant;
  Nozzle nozzle;
  Day day = {};
  double outer_diameter = 0;  ///< of the propellant, m
  double grain_room = 0;      ///< m, for segments and spacers
  Shop shop;
  Limits limits;
  Wish wish;
  std::optional<Airframe> airframe = {};  ///< needed where the wish asks anything of the flight
  Tolerances tolerances = {};             ///< read where `limits.confidence` is asked
};

[[nodiscard]] std::vector<Complaint> complaints(const SearchTask& task);

/// One build that meets every limit.
struct Design {
  Grain grain;
  double throat_diameter = 0;  ///< m
  /// Against the profile; with Wish::for_the_rail, the share of the impulse that the room full of
  /// propellant would give and that this build does not.
  double misfit = 0;
  double loading = 0;
  Summary summary;
  std::optional<Flight> flight;  ///< of the steady firing, where there is an airframe
  /// Pa, that the asked part of all motors of this build keeps under; 0 where none is asked.
  double pressure_at_confidence = 0;
  std::string strength;  ///< why it is on the shortlist: "best fit", "most impulse", ...
  std::string gives_up;  ///< what it costs against the best fit, in words; empty for the best fit
};

/// A limit that stands in the way when nothing fits, and how little would have to change.
struct Relief {
  std::string key;      ///< job key, e.g. "limits.pressure"
  double asked = 0;     ///< the limit as given, SI
  double needed = 0;    ///< the value of that limit alone that would let one build through, SI
  bool enough = false;  ///< false: no value of this limit alone helps (needed is then meaningless)
};

/// The shortlist, and how far it can be trusted.
struct SearchResult {
  std::vector<Design> designs;  ///< best fit first; empty when nothing fits
  std::vector<Relief> reliefs;  ///< only when nothing fits
  long long builds = 0;         ///< builds judged (segments and throat), pruned ones included
  bool proven = false;          ///< the first design is the best of all buildable ones
  bool stopped = false;         ///< ended early on request; designs are the best found until then
  double seconds = 0;
  /// Where `limits.confidence` is asked: the ceiling was lowered by this factor, so that so many
  /// motors of each design keep it.
  double pressure_factor = 1;
};

/// How long, on how many threads.
struct SearchOptions {
  unsigned threads = 0;                       ///< 0: as many as the machine has
  std::stop_token stop = {};                  ///< asked now and then
  std::function<void(double)> progress = {};  ///< called from one thread with the share done
};

/// Throws InputError with the task's complaints.
[[nodiscard]] SearchResult search(const SearchTask& task, const SearchOptions& options = {});

/// The motor that a design of this task builds.
[[nodiscard]] Motor motor_of(const SearchTask& task, const Design& design);

/// The misfit of one motor against a profile, to 1e-8: the number that the search minimises.
[[nodiscard]] double misfit(const PreparedMotor& motor, const Profile& profile);

}  // namespace grainwright
