// SPDX-License-Identifier: GPL-3.0-or-later
//
// Any bytes are a job that can be fired and saved again, or are refused in words.
#include <cmath>

#include "fuzz/support.hpp"
#include "grainwright/firing/prepared_motor.hpp"
#include "grainwright/job/job.hpp"

namespace {

using namespace grainwright;

const std::string name = "fuzz.toml";

/// The tables that a view needs may be missing, which it says.
template <class View>
void look(const Job& job, View view) {
  try {
    static_cast<void>(view(job));
  } catch (const InputError& error) {
    fuzz::demand(!error.complaints().empty(), "a refusal has its reason");
  }
}

void look_from_all_sides(const Job& job) {
  look(job, [](const Job& j) { return lighting_of(j); });
  look(job, search_task_of);
  look(job, workshop_options_of);
  look(job, shell_of);
  look(job, airframe_of);
  look(job, [](const Job& j) { return scatter_task_of(question_of(j)); });
  look(job, change_options_of);
  look(job, [](const Job& j) {
    const Firing firing = fire_steady(motor_of(j));
    fuzz::demand(!std::isnan(firing.summary.peak_pressure), "a pressure is a number");
    return firing;
  });
}

void save_again(std::string_view text, const Job& job) {
  constexpr double warmer = 300.5;
  std::string saved;
  try {
    saved = with_value(text, "day.temperature", write_quantity(warmer, Dimension::temperature));
    if (!job.grain.layers.empty() && job.nozzle && job.nozzle->throat_diameter > 0) {
      saved = with_design(saved, job.grain, job.nozzle->throat_diameter, name);
    }
  } catch (const InputError&) {
    return;  // written in a way that cannot be edited
  }
  const Job again = parse_job(saved, name);
  fuzz::demand(again.day.temperature == warmer, "a value is changed");
  fuzz::demand(again.grain.layers.size() == job.grain.layers.size(), "segments survive");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::text_of(data, size);
  Job job;
  try {
    job = parse_job(text, name);
  } catch (const InputError& error) {
    fuzz::demand(!error.complaints().empty(), "a refusal has its reason");
    return 0;
  }
  look_from_all_sides(job);
  save_again(text, job);
  return 0;
}
