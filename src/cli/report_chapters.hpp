// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a report says, gathered from every command's own words and numbers. A part whose inputs the
// job does not have is left out.
#pragma once

#include <optional>
#include <string>

#include "grainwright/assessment/assessment.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/report/page.hpp"

namespace grainwright::cli {

/// Everything that is found out of a job for its report.
struct Findings {
  Question question;
  Assessment found;
  std::optional<double> misfit;
  std::optional<SearchResult> search;  ///< where it has a shop and a wish

  [[nodiscard]] const Firing& firing() const { return found.firing; }
  [[nodiscard]] const std::optional<ScatterResult>& doubt() const { return found.scatter; }
};

/// How much is found out.
enum class Depth {
  figures,  ///< of this build alone, as drawn
  all,      ///< and what else the shop could build, and how far this one may stray
};
[[nodiscard]] Findings findings_of(const Job& job, UnitSystem units, Depth depth);

/// `file` is the job's.
[[nodiscard]] Report report_of(const Job& job, const Findings& found, const std::string& file,
                               UnitSystem units);

/// The profile that the job asks for; null where it asks for none.
[[nodiscard]] const Profile* asked_profile(const Job& job);
/// The thrust that the wish's profile asks at these moments, with the firing's own mean; NaN after
/// the burn.
[[nodiscard]] std::vector<double> asked_thrust(const Profile& profile, const Summary& summary,
                                               const std::vector<double>& time);

}  // namespace grainwright::cli
