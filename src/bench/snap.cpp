// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "state.hpp"

namespace grainwright::bench {
namespace {

constexpr double inch = 0.0254;
constexpr double least_length = 1e-3;
constexpr double least_throat = 1e-3;
constexpr double lead_step = 0.05;
constexpr double rounding = 1e-9;
/// What of the outer diameter a core may take: some propellant must be left to hold.
constexpr double widest_core = 0.98;

/// What a workshop rule shows.
double rule_step(UnitSystem units) {
  return units == UnitSystem::us ? inch / 64 : 0.1e-3;
}

double onto(double value, const Reach& reach) {
  if (!reach.stock.empty()) {
    return *std::ranges::min_element(reach.stock, {},
                                     [value](double stock) { return std::abs(stock - value); });
  }
  // A bound between two steps lets the step inside it stand.
  const double lowest = std::ceil(reach.least / reach.step - rounding);
  const double highest = std::max(lowest, std::floor(reach.most / reach.step + rounding));
  return std::clamp(std::round(value / reach.step), lowest, highest) * reach.step;
}

std::vector<double> rising(std::vector<double> values) {
  std::ranges::sort(values);
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return values;
}

double outer_of(const Job& job) {
  return job.casing ? job.casing->grain_outer_diameter()
                    : job.grain.layers.front().segment.outer_diameter;
}

Reach length_reach(const Job& job) {
  const double room = job.casing ? job.casing->grain_room : 2 * job.grain.stack_length();
  Reach reach{least_length, room, rule_step(job.units), {}};
  if (!job.shop) return reach;
  if (job.shop->length_step > 0) reach.step = job.shop->length_step;
  reach.most = std::min(room, job.shop->longest_segment);
  reach.least = std::min(
      std::max({least_length, job.shop->shortest_segment, job.shop->length_step}), reach.most);
  return reach;
}

Reach temperature_reach(UnitSystem units) {
  const double step = units == UnitSystem::us ? 5.0 / 9 : 1.0;
  return {coldest_grain, hottest_grain, step, {}};
}

/// Whole degrees of the scale that is printed.
double onto_degrees(double kelvin, UnitSystem units) {
  const double shown = in_units(kelvin, Dimension::temperature, units);
  const double off = std::round(shown) - shown;
  // What stands on a degree already stays there to the last bit.
  const double moved =
      std::abs(off) < rounding ? kelvin : kelvin + off * temperature_reach(units).step;
  return std::clamp(moved, coldest_grain, hottest_grain);
}

}  // namespace

Reaches reaches_of(const Job& job) {
  const double outer = outer_of(job);
  Reaches reaches;
  reaches.length = length_reach(job);
  reaches.core = {0, widest_core * outer, rule_step(job.units), {}};
  reaches.throat = {least_throat, outer / 2, rule_step(job.units), {}};
  if (job.shop) {
    reaches.core.stock = rising(job.shop->mandrels);
    std::erase_if(reaches.core.stock, [outer](double core) { return core >= outer; });
    reaches.throat.stock = rising(job.shop->throats);
  }
  // A drag may leave the stock on both sides: a tool can be bought.
  if (!reaches.throat.stock.empty()) {
    reaches.throat.least = reaches.throat.stock.front() / 1.5;
    reaches.throat.most = reaches.throat.stock.back() * 1.5;
  }
  reaches.temperature = temperature_reach(job.units);
  reaches.lead = {1 + lead_step, 2, lead_step, {}};
  return reaches;
}

Moved read_moved(const Json& json) {
  const auto found = json.find("moved");
  if (found == json.end() || !found->is_object()) return {};
  const auto what = found->find("what");
  const auto layer = found->find("segment");
  Moved moved;
  if (what != found->end() && what->is_string()) moved.what = what->get<std::string>();
  if (layer != found->end() && layer->is_number_unsigned()) {
    moved.layer = layer->get<std::size_t>();
  }
  return moved;
}

State snapped(State state, const Moved& moved, const Job& job) {
  const Reaches reaches = reaches_of(job);
  if (moved.what == "throat") state.throat = onto(state.throat, reaches.throat);
  if (moved.what == "temperature") {
    state.temperature = onto_degrees(state.temperature, job.units);
  }
  if (moved.what == "lead") state.asked.lead = onto(state.asked.lead, reaches.lead);
  if (moved.layer >= state.layers.size()) return state;
  Segment& segment = state.layers[moved.layer].segment;
  if (moved.what == "length") segment.length = onto(segment.length, reaches.length);
  if (moved.what == "core" && !segment.core) {
    segment.core_diameter = onto(segment.core_diameter, reaches.core);
  }
  return state;
}

State kept_within(State state, const Job& job) {
  const Reaches reaches = reaches_of(job);
  for (Layer& layer : state.layers) {
    Segment& segment = layer.segment;
    segment.length = std::clamp(segment.length, least_length, reaches.length.most);
    segment.core_diameter =
        std::clamp(segment.core_diameter, 0.0, widest_core * segment.outer_diameter);
  }
  state.throat = std::clamp(state.throat, least_throat, reaches.throat.most);
  state.temperature = std::clamp(state.temperature, coldest_grain, hottest_grain);
  return state;
}

}  // namespace grainwright::bench
