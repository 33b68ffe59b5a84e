// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the page says of a build in plain sentences. A sentence turns when its limit is crossed, so
// that no colour is needed to read it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "grainwright/assessment/limits.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/strength/margins.hpp"
#include "state.hpp"

namespace grainwright::bench {

enum class Mood { kept, near, broken };
[[nodiscard]] std::string_view name_of(Mood mood);

struct Sentence {
  std::string key;  ///< the job's key of what it limits
  Mood mood = Mood::kept;
  std::string text;
};

/// "Peak pressure is 3.1 MPa, 22 % under its ceiling of 4 MPa."
[[nodiscard]] Sentence said(const Check& check, UnitSystem units);
/// Whether the stack fits its room; nothing to say where the room is not known.
[[nodiscard]] std::vector<Sentence> room_sentences(const Job& job);
/// Propellant in the room, held against the loading that is asked.
[[nodiscard]] std::vector<Sentence> loading_sentences(const Job& job);
/// How near the thrust is to the asked profile.
[[nodiscard]] std::string fit_words(double misfit, const Asked& asked);
/// One sentence a part, what gives first coming first.
[[nodiscard]] std::vector<Sentence> said(const Margins& margins, UnitSystem units);

[[nodiscard]] Json json_of(const std::vector<Sentence>& sentences);

}  // namespace grainwright::bench
