// SPDX-License-Identifier: GPL-3.0-or-later
//
// The same job for several values of one of its keys.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "arguments.hpp"
#include "prediction.hpp"

namespace grainwright::cli {

struct Sweep {
  std::string key;                  ///< as it was given
  std::vector<std::string> values;  ///< as they were given
  std::vector<Prediction> predictions;
  std::vector<std::string>
      limits;  ///< whether those of the job hold: "kept", "near", "BROKEN", ...  ///< one a value
};

/// `wanted` is "key=value,value,...". The job's text is changed and read again for each value, so
/// that every key goes the same way as from the file; `prepare` sees each job before it is fired.
/// Throws InputError with the option's name or the complaints of the changed job.
[[nodiscard]] Sweep swept(const std::string& job_file, const std::string& wanted,
                          const std::function<void(Job&)>& prepare,
                          const std::function<Prediction(const Job&)>& predicted);

/// A table of figures, the figures as JSON, or all curves as CSV.
[[nodiscard]] std::string printed(const Sweep& sweep, Format format, UnitSystem units);

}  // namespace grainwright::cli
