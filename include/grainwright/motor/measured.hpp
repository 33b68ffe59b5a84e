// SPDX-License-Identifier: GPL-3.0-or-later
//
// How well a burn law is known that was measured on a stand, and from which logs.
#pragma once

#include <string>
#include <vector>

namespace grainwright {

/// What a stand has measured.
struct Measured {
  std::string date;               ///< as the file has it
  std::vector<std::string> logs;  ///< files that the law was fitted to
  double at = 0;                  ///< Pa, where the rate's error is told; 0 where not said
  double rate_error = 0;          ///< relative, one standard deviation, of the rate there
  double n_error = 0;             ///< one standard deviation of the exponent; 0 where not said
  double correlation = 0;  ///< of the rate's relative error at `at` and the exponent's, -1 to 1
  double efficiency_error = 0;               ///< relative; 0 where it was not fitted
  double characteristic_velocity_error = 0;  ///< relative; 0 where it was not fitted
  std::string doubtful =
      {};  ///< why the law is not to be trusted; empty where nothing speaks against it

  bool operator==(const Measured&) const = default;
};

}  // namespace grainwright
