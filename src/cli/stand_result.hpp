// SPDX-License-Identifier: GPL-3.0-or-later
//
// Everything that `stand` finds out, and how it is told.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "grainwright/job/job.hpp"
#include "grainwright/stand/round_trip.hpp"
#include "json.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// A log that was read, without its rows.
struct LogTold {
  std::string file;
  Log log;  ///< columns given away
  std::size_t used = 0;
};

struct StandResult {
  std::vector<LogTold> logs;
  std::vector<Shot> shots;              ///< one a log where there is a job
  std::optional<Trace> trace;           ///< of the first log; none with a peak and a time alone
  std::optional<StandFigures> figures;  ///< of it
  std::optional<PeakAndTime> seen;
  std::optional<Comparison> comparison;
  std::optional<Fit> fit;
  std::vector<RoundTrip> trips;  ///< one a log
  std::vector<Doubt> doubts;     ///< why no law is saved
  FitOptions trusted;            ///< how far instruments, job and model are
  std::vector<std::string> remarks;
};

/// All remarks: of log, figures and fit.
[[nodiscard]] std::vector<std::string> remarks_of(const StandResult& result);
/// The columns that there are.
[[nodiscard]] std::vector<Column> columns_of(const Beside& rows);
/// `job` is null where none was given.
[[nodiscard]] Page stand_page(const Job* job, const StandResult& result, UnitSystem units);
[[nodiscard]] Json json_of(const StandResult& result, bool saved);

}  // namespace grainwright::cli
