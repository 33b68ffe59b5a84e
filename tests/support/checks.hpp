// SPDX-License-Identifier: GPL-3.0-or-later
//
// A check against something outside the project. It asserts, and it records what was expected, by
// which source, and what came out, for docs/checks.md.
#pragma once

#include <string>

namespace checks {

/// Where a value comes from when it is no published source.
inline const std::string closed_form = "closed form";
inline const std::string common_practice = "common practice, no source";
/// "from memory: <work>".
std::string from_memory(const std::string& work);

/// Tolerances: relative, or absolute (a table's rounding).
struct Within {
  double relative = 0;
  double absolute = 0;
};
inline Within relative(double value) {
  return {value, 0};
}
inline Within absolute(double value) {
  return {0, value};
}

/// Asserts |got - expected| within tolerance, in the running Catch2 test case, and records the row.
/// `quantity` says what was checked with its unit; `source` names the work, or one of the above.
void expect(const std::string& quantity, const std::string& source, double expected, double got,
            Within within);

/// The same for text, e.g. a letter class.
void expect(const std::string& quantity, const std::string& source, const std::string& expected,
            const std::string& got);

}  // namespace checks
