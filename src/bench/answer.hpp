// SPDX-License-Identifier: GPL-3.0-or-later
//
// The bench's answers, without a server: a request and a job in, everything that the page shows
// out. Nothing here touches a file, and every figure is the library's.
#pragma once

#include "grainwright/job/job.hpp"
#include "state.hpp"

namespace grainwright::bench {

/// What the page needs of the job before anything moves: names, units, stock, how far each value
/// may be moved, and the state to start from.
[[nodiscard]] Json opening(const Job& job);

/// Answers {"state": ..., "moved": ..., "full": ...}. The state comes back snapped and in SI, with
/// figures, curve and sentences; "full" adds what takes more than a move's time: the axial firing,
/// what holds, and the cut list. A state that makes no motor comes back with "refused", in words.
[[nodiscard]] Json answer(const Json& request, const Job& job);

}  // namespace grainwright::bench
