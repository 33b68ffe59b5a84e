// SPDX-License-Identifier: GPL-3.0-or-later
#include "evaluator.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "grainwright/firing/steady.hpp"
#include "grainwright/flight/flight.hpp"

namespace grainwright {
namespace {

// Webs this close together, as a factor, are one event.
constexpr double same_event = 1 + 1e-13;

}  // namespace

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

Evaluator::Evaluator(const SearchTask& task, std::span<const ShopThroat> throats)
    : task_(task),
      throats_(throats),
      rows_(set_limits(task)),
      fit_(task.wish.profile),
      room_volume_(std::numbers::pi / 4 * task.outer_diameter * task.outer_diameter),
      wants_mass_flux_(std::isfinite(task.limits.mass_flux)),
      ideal_impulse_(ideal_impulse(task, throats)) {}

void Evaluator::take(std::span<const Group> groups) {
  groups_ = groups;
  shared_.clear();
  burnback_.reset();
  by_burnout_.clear();
  for (const Group& group : groups) by_burnout_.push_back(&group);
  std::ranges::sort(by_burnout_, {}, [](const Group* group) { return group->burnout; });
  double volume = 0;
  int count = 0;
  bool bent = false;
  stack_length_ = 0;
  smallest_port_ = std::numeric_limits<double>::infinity();
  for (const Group* group : by_burnout_) {
    volume += group->volume;
    count += group->count;
    bent = bent || group->bent;
    stack_length_ += group->length;
    smallest_port_ = std::min(smallest_port_, group->port);
  }
  stack_length_ += (count - 1) * task_.shop.spacer;
  // A room that has to be lengthened is measured as it then is.
  loading_ = volume / (room_volume_ * std::max(task_.grain_room, stack_length_));
  propellant_volume_ = volume;
  stretches_.clear();
  bent ? lay_bent_stretches() : lay_stretches();
  initial_area_ = stretches_.front().area(0);
  // Nobody asks for an even burn of the last slivers of an odd core: they bound no least area.
  double slivers = bent ? slivers_from() : stretches_.back().to;
  if (const auto& factor = task_.propellant.web_factor) {
    const double burnout = stretches_.back().to;
    slivers = burnout * factor->passed(slivers / burnout);
    initial_area_ *= (*factor)(0);
    stretches_ = even_rate(stretches_, factor, burnout);
  }
  take_range(slivers);
}

void Evaluator::lay_stretches() {
  double from = 0;
  for (std::size_t i = 0; i < by_burnout_.size(); ++i) {
    const double to = by_burnout_[i]->burnout;
    if (to <= from * same_event) continue;
    Stretch stretch{from, to, {}};
    for (std::size_t j = i; j < by_burnout_.size(); ++j) stretch.area += by_burnout_[j]->area;
    stretches_.push_back(stretch);
    from = to;
  }
}

// Cut wherever a formula of any group ends.
void Evaluator::lay_bent_stretches() {
  cuts_.clear();
  for (const Group* group : by_burnout_) {
    cuts_.push_back(group->burnout);
    if (!group->bent) continue;
    for (const Stretch& stretch : *group->bent) cuts_.push_back(stretch.to);
  }
  std::ranges::sort(cuts_);
  at_.assign(by_burnout_.size(), 0);
  double from = 0;
  for (double to : cuts_) {
    if (to <= from * same_event) continue;
    stretches_.push_back({from, to, area_from(from)});
    from = to;
  }
}

Quadratic Evaluator::area_from(double web) {
  Quadratic area;
  for (std::size_t i = 0; i < by_burnout_.size(); ++i) {
    const Group& group = *by_burnout_[i];
    if (group.burnout <= web * same_event) continue;
    if (!group.bent) {
      area += group.area;
      continue;
    }
    while ((*group.bent)[at_[i]].to <= web * same_event) ++at_[i];
    area += (*group.bent)[at_[i]].area;
  }
  return area;
}

void Evaluator::take_range(double slivers) {
  range_ = area_range(stretches_.front());
  least_burning_ = range_.least;
  for (const Stretch& stretch : stretches_) {
    const AreaRange part = area_range(stretch);
    range_.greatest = std::max(range_.greatest, part.greatest);
    least_burning_ = std::min(least_burning_, part.least);
    if (stretch.from >= slivers) continue;
    const bool cut = stretch.to > slivers;
    const Stretch before{stretch.from, slivers, stretch.area};
    range_.least = std::min(range_.least, cut ? area_range(before).least : part.least);
  }
}

double Evaluator::slivers_from() const {
  const Stretch& last = stretches_.back();
  if (last.area(last.to) > sliver_share * initial_area_) return last.to;
  double left = sliver_share * propellant_volume_;
  for (auto stretch = stretches_.rbegin(); stretch != stretches_.rend(); ++stretch) {
    const double burned = stretch->area.integral(stretch->from, stretch->to);
    if (burned < left) {
      left -= burned;
      continue;
    }
    double from = stretch->from;
    double to = stretch->to;
    while (to - from > 1e-12 * last.to) {
      const double middle = (from + to) / 2;
      (stretch->area.integral(middle, stretch->to) > left ? from : to) = middle;
    }
    return from;
  }
  return 0;
}

bool Evaluator::may_fit(const ShopThroat& throat) const {
  return range_.greatest <= throat.most_area && range_.least >= throat.least_area;
}

LimitedFigures Evaluator::early_figures(const ShopThroat& throat) const {
  const SteadyChamber& chamber = throat.chamber;
  LimitedFigures figures;
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
FitSums Evaluator::sums(const ShopThroat& throat) {
  const SteadyChamber& chamber = throat.chamber;
  const auto& band = chamber.band_of(range_.greatest);
  if (&band != &chamber.band_of(least_burning_) || !band.full_flow || band.slowness > 0) {
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

double Evaluator::mass_flux(const ShopThroat& throat) {
  if (!burnback_) burnback_.emplace(grain_of(groups_, task_.shop.spacer));
  return peak_mass_flux(*burnback_, throat.chamber);
}

Evaluation Evaluator::evaluate(const ShopThroat& throat, const LimitedFigures& early) {
  Evaluation evaluation{early, 0};
  const FitSums integrals = sums(throat);
  LimitedFigures& figures = evaluation.figures;
  figures.burn_time = integrals.time;
  figures.total_impulse = integrals.impulse;
  figures.mean_thrust = integrals.impulse / integrals.time;
  figures.mass_flux = wants_mass_flux_ ? mass_flux(throat) : 0;
  evaluation.misfit =
      task_.wish.for_the_rail ? shortfall(integrals.impulse) : fit_.misfit(integrals);
  return evaluation;
}

std::optional<Evaluation> Evaluator::evaluate_if_allowed(const ShopThroat& throat) {
  const LimitedFigures early = early_figures(throat);
  for (const SetLimit& row : rows_) {
    if (row.cost() == LimitCost::looked_at && !row.holds(early)) return std::nullopt;
  }
  const Evaluation evaluation = evaluate(throat, early);
  for (const SetLimit& row : rows_) {
    if (row.cost() == LimitCost::burned && !row.holds(evaluation.figures)) return std::nullopt;
  }
  return evaluation;
}

double Evaluator::shortfall(double impulse) const {
  return 1 - impulse / ideal_impulse_;
}

void Evaluator::fly(const ShopThroat& throat, LimitedFigures& figures) const {
  if (!task_.airframe) return;
  const double propellant = throat.chamber.density() * propellant_volume_;
  if (task_.wish.rail_speed.set()) {
    figures.rail_speed = rail_exit_speed(stretches_, throat.chamber, propellant, *task_.airframe);
  }
  if (task_.wish.apogee.set()) {
    figures.apogee = apogee(stretches_, throat.chamber, propellant, *task_.airframe);
  }
}

bool Evaluator::flies_as_asked(const ShopThroat& throat, LimitedFigures& figures) const {
  fly(throat, figures);
  return std::ranges::all_of(rows_, [&](const SetLimit& row) {
    return row.cost() != LimitCost::flown || row.holds(figures);
  });
}

}  // namespace grainwright
