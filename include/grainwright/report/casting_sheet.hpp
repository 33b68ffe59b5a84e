// SPDX-License-Identifier: GPL-3.0-or-later
//
// The cut list as a sheet for the bench: numbered pieces with boxes to tick and room to write what
// was measured, lengths to be read from a step away, the saw plan drawn, and templates in true size
// that centre a core rod in its tube. Printed on A4 or Letter; asks for no script.
#pragma once

#include <string>
#include <vector>

#include "grainwright/assessment/verdict.hpp"
#include "grainwright/quantity.hpp"
#include "grainwright/workshop/cut_list.hpp"

namespace grainwright {

/// What the sheet says, in printed words.
struct CastingSheet {
  std::string title;  ///< the job's
  std::string file;   ///< the job's
  CutList list;
  WorkshopOptions options;
  UnitSystem units = UnitSystem::us;
  std::vector<std::string> cores;    ///< in words, one for each of the list's pieces
  std::string cautions;              ///< at the foot
  Answer answer = Answer::unknown;   ///< of the verdict on the motor; a banner over everything
  std::string verdict;               ///< its first sentence
  std::vector<std::string> reasons;  ///< what else is broken or not judged
};

[[nodiscard]] std::string html_of(const CastingSheet& sheet);

}  // namespace grainwright
