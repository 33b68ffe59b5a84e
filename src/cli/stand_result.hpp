// SPDX-License-Identifier: GPL-3.0-or-later
//
// Everything that `stand` finds out, and how it is told.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "grainwright/job/job.hpp"
#include "grainwright/stand/compare.hpp"
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
  double scale_error = 0;
  std::vector<std::string> remarks;
};

/// The columns that there are.
[[nodiscard]] std::vector<Column> columns_of(const Beside& rows);
/// `job` is null where none was given.
[[nodiscard]] Page stand_page(const Job* job, const StandResult& result, UnitSystem units);
[[nodiscard]] Json json_of(const StandResult& result);

}  // namespace grainwright::cli
