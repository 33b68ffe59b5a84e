// SPDX-License-Identifier: GPL-3.0-or-later
//
// What to cut, pour and weigh for one build. Masses only; how a propellant is prepared is not here.
#pragma once

#include <optional>
#include <vector>

#include "grainwright/grain/grain.hpp"
#include "grainwright/motor/propellant.hpp"
#include "grainwright/quantity.hpp"
#include "grainwright/workshop/saw_plan.hpp"

namespace grainwright {

/// How the builder cuts and pours.
struct WorkshopOptions {
  double grain_room = 0;              ///< m; 0 where unknown
  double kerf = 0;                    ///< m
  double tube_stock = 0;              ///< m, length of bought casting tube; 0 where unknown
  double waste = 0;                   ///< fraction of the batch left in the pot, 0 <= waste < 1
  double length_tolerance = 0;        ///< m, plus or minus on a segment's length
  double density_tolerance = 0;       ///< fraction of cast density, plus or minus
  double mandrel_grip = 0;            ///< m of core rod beyond each end of a segment
  UnitSystem units = UnitSystem::si;  ///< of the lengths that remarks name
};

/// Equal segments: one line of the list.
struct CutPiece {
  int count = 0;
  Segment segment;
  double tube_length = 0;        ///< m, casting tube
  double propellant_length = 0;  ///< m
  double mandrel_length = 0;  ///< m, rod that reaches through with a grip at each end; 0 if solid
  double mass = 0;            ///< kg of propellant in one
  double lightest = 0;        ///< kg, accept band
  double heaviest = 0;
};

/// One ingredient of the batch.
struct Portion {
  std::string name;
  double mass = 0;  ///< kg
};

/// All that is cut, cast and weighed for a motor.
struct CutList {
  std::vector<CutPiece> pieces;  ///< head end first, as in the grain
  int spacers = 0;
  double spacer = 0;                ///< m, each
  double stack_length = 0;          ///< m
  double grain_room = 0;            ///< m; 0 where unknown
  double room_left = 0;             ///< m, grain_room - stack_length; negative when it does not fit
  double propellant_mass = 0;       ///< kg in the grain
  double batch = 0;                 ///< kg to weigh out, waste included
  std::vector<Portion> portions;    ///< the batch by the formula's mass fractions; may be empty
  std::optional<SawPlan> saw_plan;  ///< where the stock length is known; piece indices count
                                    ///< segments head end first
  std::vector<std::string> remarks;
};

/// Throws InputError with the grain's, the propellant's and the options' complaints, or above 1000
/// segments. What only stands in the way of a part of the list becomes a remark.
[[nodiscard]] CutList cut_list(const Grain& grain, const Propellant& propellant,
                               const WorkshopOptions& options);

}  // namespace grainwright
