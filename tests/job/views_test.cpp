// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "job_text.hpp"

namespace gw = grainwright;

namespace {

template <typename View>
std::vector<std::string> missing(View view) {
  std::vector<std::string> keys;
  try {
    static_cast<void>(view());
  } catch (const gw::InputError& error) {
    for (const gw::Complaint& complaint : error.complaints()) keys.push_back(complaint.key);
  }
  return keys;
}

using Keys = std::vector<std::string>;

}  // namespace

TEST_CASE("A whole job gives a motor, a search and a workshop") {
  const gw::Job job = gw::parse_job(job_text::sound, "");
  CHECK(gw::motor_of(job).grain == job.grain);
  CHECK(gw::motor_of(job).nozzle == *job.nozzle);
  const gw::SearchTask task = gw::search_task_of(job);
  CHECK(task.outer_diameter == job.casing->grain_outer_diameter());
  CHECK(task.grain_room == job.casing->grain_room);
  CHECK(task.shop.mandrels == job.shop->mandrels);
  CHECK(gw::workshop_options_of(job).grain_room == job.casing->grain_room);
}

TEST_CASE("The tables that are missing are named") {
  const gw::Job job;
  CHECK(missing([&] { return gw::motor_of(job); }) == Keys{"propellant", "nozzle", "segment"});
  CHECK(missing([&] { return gw::search_task_of(job); }) ==
        Keys{"casing", "propellant", "nozzle", "shop", "wish"});
  const gw::Job open =
      gw::parse_job(job_text::changed(job_text::sound, "throat = \"3/8 in\"", ""), "");
  CHECK(missing([&] { return gw::motor_of(open); }) == Keys{"nozzle.throat"});
}

TEST_CASE("A workshop has defaults where the job has no shop") {
  const gw::WorkshopOptions options = gw::workshop_options_of(gw::Job{});
  CHECK(options.grain_room == 0);
  CHECK(options.density_tolerance == gw::Shop{}.density_tolerance);
}
