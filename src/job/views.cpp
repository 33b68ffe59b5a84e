// SPDX-License-Identifier: GPL-3.0-or-later
//
// What each command asks of a job.
#include "grainwright/job/job.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/scatter/port_load.hpp"

namespace grainwright {
namespace {

/// Collects what a command needs and the job does not have.
class Needs {
 public:
  Needs(const Job& job, std::string purpose) : file_(job.file), purpose_(std::move(purpose)) {}
  void need(bool there, const std::string& key, const std::string& what) {
    if (!there) missing_.push_back({key, "missing", what + "; " + purpose_ + " needs it", {file_}});
  }
  void done() const {
    if (!missing_.empty()) throw InputError(missing_);
  }

 private:
  std::string file_;
  std::string purpose_;
  std::vector<Complaint> missing_;
};

}  // namespace

Motor motor_of(const Job& job) {
  Needs needs(job, "a firing");
  needs.need(job.propellant.has_value(), "propellant", "a [propellant] table");
  needs.need(job.nozzle.has_value(), "nozzle", "a [nozzle] table with a throat");
  needs.need(!job.nozzle || job.nozzle->throat_diameter > 0, "nozzle.throat", "a throat diameter");
  needs.need(!job.grain.layers.empty(), "segment", "at least one [[segment]]");
  needs.done();
  return {job.grain, *job.propellant, *job.nozzle, job.day};
}

Lighting lighting_of(const Job& job) {
  if (job.lighting.spare_volume || !job.casing) return job.lighting;
  return lighting_of(job, motor_of(job));
}

Lighting lighting_of(const Job& job, const Motor& motor) {
  Lighting lighting = job.lighting;
  if (lighting.spare_volume || !job.casing) return lighting;
  const double over = std::max(0.0, job.casing->grain_room - motor.grain.stack_length());
  const double diameter = job.casing->grain_outer_diameter();
  lighting.spare_volume = entry_volume(motor) + std::numbers::pi / 4 * diameter * diameter * over;
  return lighting;
}

SearchTask search_task_of(const Job& job) {
  Needs needs(job, "a search");
  needs.need(job.casing.has_value(), "casing", "a [casing] table");
  needs.need(job.propellant.has_value(), "propellant", "a [propellant] table");
  needs.need(job.nozzle.has_value(), "nozzle", "a [nozzle] table");
  needs.need(job.shop.has_value(), "shop", "a [shop] table with mandrels and throats");
  needs.need(job.wish.has_value(), "wish", "a [wish] table");
  needs.done();
  return {*job.propellant,        *job.nozzle,   job.day,    job.casing->grain_outer_diameter(),
          job.casing->grain_room, *job.shop,     job.limits, *job.wish,
          job.airframe,           job.tolerances};
}

Shell shell_of(const Job& job) {
  Needs needs(job, "judging what holds");
  needs.need(job.shell.has_value(), "casing.material", "a [casing] table with its material");
  needs.done();
  return *job.shell;
}

Airframe airframe_of(const Job& job) {
  Needs needs(job, "a flight");
  needs.need(job.airframe.has_value(), "airframe", "an [airframe] table with what is to fly");
  needs.done();
  return *job.airframe;
}

Question question_of(const Job& job) {
  return question_of(job, motor_of(job));
}

Question question_of(const Job& job, Motor motor) {
  Question question{.motor = PreparedMotor(std::move(motor))};
  const Motor& drawn = question.motor.motor();
  const Shop shop = job.shop.value_or(Shop{});
  question.lighting = lighting_of(job, drawn);
  question.casing = job.casing;
  question.limits = job.limits;
  if (job.wish) question.bounds = *job.wish;
  question.shell = job.shell;
  question.factor_asked = job.factor_asked;
  question.airframe = job.airframe;
  question.tolerances = job.tolerances;
  question.faults =
      job.faults.empty() ? usual_faults(drawn, shop.throats, shop.mandrels) : job.faults;
  // Another motor than the job's own may lack the segment that a mistake is made with.
  std::erase_if(question.faults,
                [&](const Fault& fault) { return !complaints(fault, drawn, 0).empty(); });
  question.length_tolerance = shop.length_tolerance;
  question.assumed = job.assumed;
  return question;
}

ChangeOptions change_options_of(const Job& job) {
  return {*shipped_material("cement-mortar"), job.shop ? job.shop->throats : std::vector<double>{}};
}

WorkshopOptions workshop_options_of(const Job& job) {
  const Shop shop = job.shop.value_or(Shop{});
  return {.grain_room = job.casing ? job.casing->grain_room : 0,
          .kerf = shop.kerf,
          .tube_stock = shop.tube_stock,
          .waste = shop.waste,
          .length_tolerance = shop.length_tolerance,
          .density_tolerance = shop.density_tolerance,
          .mandrel_grip = shop.mandrel_grip,
          .units = job.units};
}

}  // namespace grainwright
