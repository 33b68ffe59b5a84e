// SPDX-License-Identifier: GPL-3.0-or-later
//
// Jobs as texts, for tests: sound ones to change, complaints about the others, and everything that
// a job says as one text, to compare two.
#pragma once

#include <string>
#include <vector>

#include "grainwright/job/job.hpp"

namespace job_text {

/// A sound job with every table but [limits] and [day].
inline const std::string sound = R"(# Notes of the builder
[job]
title = "Heron"

[casing]            # the black pipe
pipe = "1-1/2 sch 40"
grain_room = "7 1/2 in"
tube_wall = "0.06 in"
fit = "0.02 in"

[propellant]
name = "kn-sorbitol"

[nozzle]
throat = "3/8 in"   # drilled
exit = "3/4 in"

[[segment]]
count = 2
length = "2 7/16 in"
core = "3/8 in"

# the last one
[[segment]]
length = "2 in"
core = "1/2 in"

[shop]
mandrels = ["3/8 in", "1/2 in"]
throats = ["5/16 in", "3/8 in"]
spacer = "1/16 in"
length_step = "1/16 in"
shortest_segment = "3/4 in"

[wish]
profile = "flat"
)";

/// The text with its first `from` replaced by `to`.
std::string changed(std::string text, const std::string& from, const std::string& to);

/// The complaints that reading gives, each as one line without the file's name; empty if it is
/// read.
std::vector<std::string> complaints_of(const std::string& text);

/// Everything in a job to the last digit, the grain and the throat left out on request.
std::string described(const grainwright::Job& job, bool with_design = true);

/// The nth ```toml block of docs/job-file.md, from 0.
inline constexpr int examples_of_page = 9;
std::string example_of_page(int index);
/// docs/job-file.md.
std::string page();

}  // namespace job_text
