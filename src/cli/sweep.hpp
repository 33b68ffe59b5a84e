// SPDX-License-Identifier: GPL-3.0-or-later
//
// The same job for several values of one of its keys.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "arguments.hpp"
#include "grainwright/assessment/assessment.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright::cli {

/// One value's firing.
struct SweepRun {
  std::string value;  ///< as it was given
  Assessment found;
  Firing firing;  ///< by the model that was asked for
  std::vector<std::string> remarks;
};

struct Sweep {
  std::string key;  ///< as it was given
  Model model = Model::transient;
  std::vector<SweepRun> runs;
};

/// `wanted` is "key=value,value,...". The job's text is changed and read again for each value, so
/// that every key goes the same way as from the file; `prepare` sees each job before it is fired.
/// Throws InputError with the option's name or the complaints of the changed job.
[[nodiscard]] Sweep swept(const std::string& job_file, const std::string& wanted, Model model,
                          const std::function<void(Job&)>& prepare,
                          const std::function<SweepRun(const Job&)>& fire);

/// A table of figures, the figures as JSON, or all curves as CSV.
[[nodiscard]] std::string printed(const Sweep& sweep, Format format, UnitSystem units);

/// Of all values together: what is broken at any of them is broken.
[[nodiscard]] Verdict verdict_of(const Sweep& sweep);

}  // namespace grainwright::cli
