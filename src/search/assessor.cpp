// SPDX-License-Identifier: GPL-3.0-or-later
#include "assessor.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "grainwright/firing/steady.hpp"
#include "grainwright/flight/flight.hpp"

namespace grainwright {

std::vector<ShopThroat> throats_of(const SearchTask& task) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  std::vector<ShopThroat> throats;
  for (double diameter : task.shop.throats) {
    const Nozzle nozzle = task.nozzle.drilled_to(diameter);
    if (diameter > nozzle.exit_diameter) continue;
    SteadyChamber chamber(task.propellant, nozzle, task.day);
    const double ceiling = task.limits.pressure;
    const double most = std::isinf(ceiling) ? infinity : chamber.area_at(ceiling);
    const double floor =
        std::max(task.limits.pressure_floor, chamber.thrust_law().choking_pressure());
    // Just under the floor's own area, so that rounding never drops a build that meets it.
    const double least = floor > 0 ? chamber.area_at(std::nextafter(floor, 0.0)) : 0;
    const double lifted_out =
        task.airframe ? chamber.thrust_law().exit_area() *
                            (task.day.ambient_pressure - air_at(task.airframe->altitude).pressure)
                      : 0;
    throats.push_back({diameter, std::move(chamber), least, most, lifted_out});
  }
  return throats;
}

namespace {

// No build gives more: thrust is at most per_pressure P, and the integral of P dt is known.
double ideal_impulse(const SearchTask& task, std::span<const ShopThroat> throats) {
  double most = 0;
  for (const ShopThroat& throat : throats) {
    const SteadyChamber& chamber = throat.chamber;
    most = std::max(most, chamber.thrust_law().per_pressure() * chamber.mass_per_pressure());
  }
  return most * std::numbers::pi / 4 * task.outer_diameter * task.outer_diameter * task.grain_room;
}

}  // namespace

Assessor::Assessor(const SearchTask& task, std::span<const ShopThroat> throats)
    : task_(task),
      throats_(throats),
      rows_(limit_rows(task)),
      fit_(task.wish.profile),
      room_volume_(std::numbers::pi / 4 * task.outer_diameter * task.outer_diameter),
      wants_mass_flux_(std::isfinite(task.limits.mass_flux)),
      ideal_impulse_(ideal_impulse(task, throats)) {}

void Assessor::take(std::span<const Group> groups) {
  groups_ = groups;
  shared_.clear();
  by_burnout_.assign(groups.begin(), groups.end());
  std::ranges::sort(by_burnout_, {}, &Group::burnout);
  stretches_.clear();
  double volume = 0;
  int count = 0;
  stack_length_ = 0;
  double narrowest = task_.outer_diameter;
  double from = 0;
  for (std::size_t i = 0; i < by_burnout_.size(); ++i) {
    const Group& group = by_burnout_[i];
    volume += group.volume;
    count += group.count;
    stack_length_ += group.length;
    narrowest = std::min(narrowest, group.segment.core_diameter);
    if (group.burnout <= from * (1 + 1e-13)) continue;
    Stretch stretch{from, group.burnout, {}};
    for (std::size_t j = i; j < by_burnout_.size(); ++j) {
      for (std::size_t k = 0; k < 3; ++k) stretch.area.c[k] += by_burnout_[j].area.c[k];
    }
    stretches_.push_back(stretch);
    from = group.burnout;
  }
  stack_length_ += (count - 1) * task_.shop.spacer;
  // A room that has to be lengthened is measured as it then is.
  loading_ = volume / (room_volume_ * std::max(task_.grain_room, stack_length_));
  propellant_volume_ = volume;
  smallest_port_ = std::numbers::pi / 4 * narrowest * narrowest;
  initial_area_ = stretches_.front().area(0);
  range_ = area_range(stretches_.front());
  for (const Stretch& stretch : stretches_) {
    const AreaRange part = area_range(stretch);
    range_.least = std::min(range_.least, part.least);
    range_.greatest = std::max(range_.greatest, part.greatest);
  }
}

bool Assessor::may_fit(const ShopThroat& throat) const {
  return range_.greatest <= throat.most_area && range_.least >= throat.least_area;
}

Figures Assessor::early_figures(const ShopThroat& throat) const {
  const SteadyChamber& chamber = throat.chamber;
  Figures figures;
  figures.stack_length = stack_length_;
  figures.loading = loading_;
  figures.port_to_throat = smallest_port_ / chamber.throat_area();
  figures.peak_pressure = chamber.pressure(range_.greatest);
  figures.lowest_pressure = chamber.pressure(range_.least);
  figures.initial_thrust = chamber.thrust_law()(chamber.pressure(initial_area_));
  figures.peak_thrust = chamber.thrust_law()(figures.peak_pressure);
  if (task_.airframe) {
    const double mass = task_.airframe->mass_with(chamber.density() * propellant_volume_);
    const double added = chamber.band_of(initial_area_).full_flow ? throat.lifted_out : 0;
    figures.thrust_to_weight = (figures.initial_thrust + added) / (mass * standard_gravity);
  }
  return figures;
}

// In one band pressure is scale * area^power, so throats of equal power share their integrals.
FitSums Assessor::sums(const ShopThroat& throat) {
  const SteadyChamber& chamber = throat.chamber;
  const auto& band = chamber.band_of(range_.greatest);
  if (&band != &chamber.band_of(range_.least) || !band.full_flow || band.slowness > 0) {
    return fit_.sums(stretches_, chamber);
  }
  const auto found = std::ranges::find_if(
      shared_, [&](const Shared& shared) { return shared.band->power == band.power; });
  if (found == shared_.end()) {
    shared_.push_back({&chamber, &band, fit_.pressure_sums(stretches_, chamber)});
    return ProfileFit::thrust_sums(shared_.back().sums, chamber.thrust_law());
  }
  const double pressure_factor = band.scale / found->band->scale;
  const double time_factor =
      chamber.mass_per_pressure() / found->chamber->mass_per_pressure() / pressure_factor;
  return ProfileFit::thrust_sums(ProfileFit::scaled(found->sums, pressure_factor, time_factor),
                                 chamber.thrust_law());
}

double Assessor::mass_flux(const ShopThroat& throat) const {
  return peak_mass_flux(Burnback(grain_of(groups_, task_.shop.spacer)), throat.chamber);
}

Assessment Assessor::assess(const ShopThroat& throat, const Figures& early) {
  Assessment assessment{early, 0};
  const FitSums integrals = sums(throat);
  Figures& figures = assessment.figures;
  figures.burn_time = integrals.time;
  figures.total_impulse = integrals.impulse;
  figures.mean_thrust = integrals.impulse / integrals.time;
  figures.mass_flux = wants_mass_flux_ ? mass_flux(throat) : 0;
  assessment.misfit =
      task_.wish.for_the_rail ? shortfall(integrals.impulse) : fit_.misfit(integrals);
  return assessment;
}

std::optional<Assessment> Assessor::assess_if_allowed(const ShopThroat& throat) {
  const Figures early = early_figures(throat);
  for (const LimitRow& row : rows_) {
    if (row.stage == Stage::looked_at && !row.holds(early)) return std::nullopt;
  }
  const Assessment assessment = assess(throat, early);
  for (const LimitRow& row : rows_) {
    if (row.stage == Stage::burned && !row.holds(assessment.figures)) return std::nullopt;
  }
  return assessment;
}

double Assessor::shortfall(double impulse) const {
  return 1 - impulse / ideal_impulse_;
}

void Assessor::fly(const ShopThroat& throat, Figures& figures) const {
  if (!task_.airframe) return;
  const double propellant = throat.chamber.density() * propellant_volume_;
  if (task_.wish.rail_speed.set()) {
    figures.rail_speed = rail_exit_speed(stretches_, throat.chamber, propellant, *task_.airframe);
  }
  if (task_.wish.apogee.set()) {
    figures.apogee = apogee(stretches_, throat.chamber, propellant, *task_.airframe);
  }
}

bool Assessor::flies_as_asked(const ShopThroat& throat, Figures& figures) const {
  fly(throat, figures);
  return std::ranges::all_of(
      rows_, [&](const LimitRow& row) { return row.stage != Stage::flown || row.holds(figures); });
}

}  // namespace grainwright
