// SPDX-License-Identifier: GPL-3.0-or-later
//
// What can be wrong with a motor, one row each: every row looks at what was found and adds its
// reasons to the verdict. A new hazard is a row, a line of docs/verdict.md and a test.
#pragma once

#include <span>
#include <string_view>

#include "grainwright/assessment/assessment.hpp"

namespace grainwright {

/// What a row looks at.
struct Case {
  const Question& question;
  const Assessment& found;
  UnitSystem units;

  [[nodiscard]] std::string show(double value, Dimension dimension, int digits = 4) const;
  /// An absolute pressure says so.
  [[nodiscard]] std::string absolute(double pressure) const;
  [[nodiscard]] const Motor& motor() const { return question.motor.motor(); }
  [[nodiscard]] bool port_chokes() const { return found.ports.flow == PortFlow::chokes; }
};

/// "12 %", two digits.
[[nodiscard]] std::string percent_words(double share);

struct Hazard {
  std::string_view name;
  void (*look)(const Case&, Verdict&) = nullptr;
};

/// One sigma of the logarithm of the peak pressure, as the tolerances have it.
[[nodiscard]] double pressure_sigma(const Case& c);

/// What breaks or is not judged, the gravest first.
[[nodiscard]] std::span<const Hazard> hazard_table();
/// What is only taken for granted.
[[nodiscard]] std::span<const Hazard> assumption_table();

[[nodiscard]] Verdict verdict_on(const Question& question, const Assessment& found,
                                 UnitSystem units);

}  // namespace grainwright
