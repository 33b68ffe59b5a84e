// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a report says, gathered from every command's own words and numbers. A part whose inputs the
// job does not have is left out.
#pragma once

#include <optional>
#include <string>

#include "check.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/report/page.hpp"
#include "grainwright/scatter/scatter.hpp"
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
  std::optional<Flight> flight;        ///< where it has an airframe
  std::vector<Check> flight_bounds;
  std::optional<ScatterResult> doubt;

  [[nodiscard]] const Firing& firing() const { return prediction.firing; }
  [[nodiscard]] bool as_asked() const;
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
