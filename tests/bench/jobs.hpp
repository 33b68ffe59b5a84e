// SPDX-License-Identifier: GPL-3.0-or-later
//
// Jobs and requests that the tests of the bench share.
#pragma once

#include <filesystem>
#include <string>

#include "bench/answer.hpp"
#include "cli/program.hpp"
#include "grainwright/job/job.hpp"

namespace bench_jobs {

using grainwright::bench::Json;

inline std::string case_file(const std::string& name) {
  return std::string(GRAINWRIGHT_SOURCE_DIR) + "/cases/" + name;
}

/// Flat, from the shop; it has no segments, so the bench starts from the even stack.
inline const std::string flat = "02-flat-burn-in-a-short-casing.toml";
/// One long pour, without shop or wish.
inline const std::string long_pour = "04-one-long-pour.toml";
/// With a shell, whose ceiling is from its strength.
inline const std::string with_shell = "07-holds-with-factor-two.toml";

inline grainwright::Job job(const std::string& name) {
  return grainwright::read_job(case_file(name));
}

inline Json start(const grainwright::Job& job) {
  return grainwright::bench::json_of(grainwright::bench::starting_state(job), job);
}

}  // namespace bench_jobs
