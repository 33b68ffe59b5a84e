// SPDX-License-Identifier: GPL-3.0-or-later
//
// The verdict in words and as JSON: the first thing that every answer on a motor says.
#pragma once

#include <string>

#include "command.hpp"
#include "grainwright/assessment/assessment.hpp"
#include "grainwright/job/job.hpp"
#include "json.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// "YES ...", "NO: do not fire this motor as drawn: ...", "UNKNOWN: ...": one sentence, without its
/// full stop.
[[nodiscard]] std::string first_sentence(const Assessment& found, UnitSystem units);
/// The same without what a yes says of pressure and strength.
[[nodiscard]] std::string first_sentence(const Verdict& verdict);

/// The first sentence, then what else is broken, not judged and assumed.
void tell_verdict(Page& page, const Assessment& found, UnitSystem units);
/// The lists alone.
void tell_reasons(Page& page, const Verdict& verdict);

[[nodiscard]] Json json_of(const Verdict& verdict);

/// 1 exactly when the answer is no.
[[nodiscard]] Exit exit_of(const Verdict& verdict);

/// What to do next: `when_yes` alone leads on to the pour.
[[nodiscard]] std::string next_step(const Job& job, const Verdict& verdict, const std::string& file,
                                    const std::string& when_yes);

}  // namespace grainwright::cli
