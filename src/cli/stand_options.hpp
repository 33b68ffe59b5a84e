// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the command line of `stand` says of a log, a stand and a fit.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "arguments.hpp"
#include "grainwright/stand/fit.hpp"

namespace grainwright::cli {

[[nodiscard]] const std::vector<Option>& stand_options();

[[nodiscard]] LogFormat log_format_of(const Arguments& arguments);
[[nodiscard]] Handling handling_of(const Arguments& arguments);
[[nodiscard]] FitOptions fit_options_of(const Arguments& arguments);
/// --only-peak-and-time; nothing where it is not given.
[[nodiscard]] std::optional<PeakAndTime> peak_and_time_of(const Arguments& arguments);
/// --with: logs and their jobs.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> others_of(
    const Arguments& arguments);
/// --date, or today.
[[nodiscard]] std::string date_of(const Arguments& arguments);
/// A quantity from 0 to under 1.
[[nodiscard]] double error_of(const Arguments& arguments, const std::string& option,
                              double otherwise);
/// The option that says what the library calls by a field's name; other keys as they are.
[[nodiscard]] std::string option_of(const std::string& key);

}  // namespace grainwright::cli
