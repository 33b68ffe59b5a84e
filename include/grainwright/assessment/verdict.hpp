// SPDX-License-Identifier: GPL-3.0-or-later
//
// The verdict on a motor: yes, no or unknown, and why. docs/verdict.md has the table of what makes
// a no and what makes an unknown.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/quantity.hpp"

namespace grainwright {

/// May this motor be fired as drawn?
enum class Answer {
  yes,      ///< nothing is broken, and nothing that counts was left unjudged
  no,       ///< something is broken
  unknown,  ///< nothing is broken, but something that counts is not judged
};
/// "yes", "no" or "unknown".
[[nodiscard]] std::string_view name_of(Answer answer);

/// One reason of a verdict.
struct Reason {
  std::string key;    ///< of the job, where an entry would change it: "limits.pressure"
  std::string words;  ///< a clause with its numbers, no capital and no full stop
  std::optional<double> value = {};  ///< SI
  std::optional<double> limit = {};  ///< SI
  Dimension dimension = Dimension::ratio;
  /// Of something broken: people may be hurt, not only the wish be missed.
  bool danger = false;
};

/// What was found; the gravest reason of each list first.
struct Verdict {
  std::vector<Reason> broken;
  std::vector<Reason> not_judged;  ///< each names the entry that would settle it
  std::vector<Reason> assumed;     ///< each with the key that changes it

  [[nodiscard]] Answer answer() const;
  /// Broken, and people may be hurt: not to be fired as drawn.
  [[nodiscard]] bool dangerous() const;
};

}  // namespace grainwright
