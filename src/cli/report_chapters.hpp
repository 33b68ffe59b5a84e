// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a report says, gathered from every command's own words and numbers. A part whose inputs the
// job does not have is left out.
#pragma once

#include <optional>
#include <string>

#include "check.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/report/page.hpp"
#include "prediction.hpp"

namespace grainwright::cli {

/// Everything that is found out of a job for its report.
struct Findings {
  Prediction prediction;
  std::vector<Check> limits;
  std::vector<Check> bounds;
  std::optional<double> misfit;
  std::optional<Margins> margins;      ///< where the job says what the pipe is made of
  std::optional<SearchResult> search;  ///< where it has a shop and a wish

  [[nodiscard]] const Firing& firing() const { return prediction.firing; }
  [[nodiscard]] bool as_asked() const;
};

/// Whether to look for what else the shop could build.
enum class Search { no, yes };
[[nodiscard]] Findings findings_of(const Job& job, UnitSystem units, Search wanted);

/// `file` is the job's.
[[nodiscard]] Report report_of(const Job& job, const Findings& found, const std::string& file,
                               UnitSystem units);

/// The thrust that the wish's profile asks at these moments, with the firing's own mean; NaN after
/// the burn.
[[nodiscard]] std::vector<double> asked_thrust(const Profile& profile, const Summary& summary,
                                               const std::vector<double>& time);

}  // namespace grainwright::cli
