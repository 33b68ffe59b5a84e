// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/gaps.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "grainwright/firing/steady.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

// The way out of a gap: a solid end has no core, and then the other's is the way.
double rim_length(const Mouth& above, const Mouth& below) {
  if (above.girth == 0) return below.girth;
  if (below.girth == 0) return above.girth;
  return std::min(above.girth, below.girth);
}

std::vector<Segment> segments_of(const Grain& grain) {
  std::vector<Segment> segments;
  for (const Layer& layer : grain.layers) {
    segments.insert(segments.end(), static_cast<std::size_t>(layer.count), layer.segment);
  }
  return segments;
}

std::string between(const std::vector<Gap>& gaps) {
  if (gaps.size() > 1) return std::to_string(gaps.size()) + " gaps";
  const std::size_t above = gaps.front().below;
  return "the gap between segments " + std::to_string(above) + " and " + std::to_string(above + 1);
}

}  // namespace

std::vector<Gap> gaps_of(const PreparedMotor& prepared) {
  const Motor& motor = prepared.motor();
  const Propellant& propellant = motor.propellant;
  const SteadyChamber& chamber = prepared.chamber();
  const double factor = chamber.factor(0);
  const double pressure = prepared.steady().initial_pressure;
  // Mach number = flow / (density x rim area x speed of sound), with density p / (R T0).
  const double flux_of_mach = pressure * std::sqrt(propellant.gamma / propellant.gas_heat());
  const double made = propellant.density() * factor * chamber.law().rate(pressure);
  const std::vector<Segment> segments = segments_of(motor.grain);
  std::vector<Gap> gaps;
  for (std::size_t i = 0; i + 1 < segments.size(); ++i) {
    const Segment& above = segments[i];
    const Segment& below = segments[i + 1];
    const Mouth headward = mouth_of(above, Face::nozzle);
    const Mouth nozzleward = mouth_of(below, Face::head);
    const double bare = (above.bare(Face::nozzle) ? headward.section : 0) +
                        (below.bare(Face::head) ? nozzleward.section : 0);
    if (bare == 0) continue;
    const double width = motor.grain.spacer;
    const double mach_times_width = made * bare / (flux_of_mach * rim_length(headward, nozzleward));
    const double mach =
        width > 0 ? mach_times_width / width : std::numeric_limits<double>::infinity();
    gaps.push_back({i + 1, width, mach, mach_times_width / calm_gap_mach});
  }
  return gaps;
}

std::vector<std::string> gap_warnings(const PreparedMotor& motor) {
  std::vector<Gap> gaps = gaps_of(motor);
  std::erase_if(gaps, [](const Gap& gap) { return gap.mach <= calm_gap_mach; });
  if (gaps.empty()) return {};
  const auto widest = std::ranges::max_element(gaps, {}, &Gap::least_width);
  const std::string wanted = show(widest->least_width, Dimension::length, UnitSystem::si, 2);
  const bool touch = gaps.front().width == 0;
  const std::string what =
      touch ? "no spacer keeps bare ends apart (" + between(gaps) +
                  "): ends that touch do not burn until gas works in"
            : between(gaps) + " of " + show(gaps.front().width, Dimension::length, UnitSystem::si) +
                  " would choke the gas of the bare ends (Mach " +
                  show(widest->mach, Dimension::ratio, UnitSystem::si, 2) + " in the rim)";
  return {what + ", though this prediction burns them freely from the start; " + wanted +
          " would do (common practice, no source)"};
}

}  // namespace grainwright
