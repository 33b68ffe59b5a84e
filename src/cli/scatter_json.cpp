// SPDX-License-Identifier: GPL-3.0-or-later
#include "chances.hpp"
#include "scatter_page.hpp"
#include "verdict_page.hpp"

namespace grainwright::cli {
namespace {

Json percentiles_json(const Percentiles& of) {
  return {{"p5", of.p5.value},
          {"p50", of.p50.value},
          {"p95", of.p95.value},
          {"errors", {{"p5", of.p5.error}, {"p50", of.p50.error}, {"p95", of.p95.error}}}};
}

Json firing_json(const SingleFiring& firing) {
  Json json = {{"peak_pressure_Pa", firing.peak_pressure},
               {"peak_thrust_N", firing.peak_thrust},
               {"total_impulse_Ns", firing.total_impulse},
               {"burn_time_s", firing.burn_time},
               {"port_chokes", firing.port_chokes}};
  if (firing.rail_speed) json["rail_exit_speed_m_s"] = *firing.rail_speed;
  if (!firing.gives_first.empty()) {
    json["gives_first"] = firing.gives_first;
    json["mode"] = firing.mode;
    json["ratio"] = firing.ratio;
  }
  return json;
}

Json spread_json(const Spread& spread) {
  constexpr std::string_view origins[] = {"given", "measured", "trade practice"};
  return {{"distribution", name_of(spread.distribution)},
          {"sigma", spread.sigma},
          {"share", spread.share},
          {"origin", origins[static_cast<std::size_t>(spread.origin)]}};
}

Json optional_json(const std::optional<Estimate>& estimate) {
  return estimate ? json_of(*estimate) : Json();
}

Json shares_json(const ScatterResult& result) {
  Json shares = Json::array();
  for (const InputShare& share : result.shares) {
    Json json = {{"input", share.name}, {"key", share.key}};
    if (share.spread) json["spread"] = spread_json(*share.spread);
    if (!share.spread) json["probability"] = share.probability;
    json["alone"] = json_of(share.alone);
    json["total"] = json_of(share.total);
    json["over_ceiling_if_exact"] = optional_json(share.over_if_exact);
    json["gives_if_exact"] = optional_json(share.gives_if_exact);
    shares.push_back(json);
  }
  return shares;
}

Json parts_json(const ScatterResult& result) {
  Json parts = Json::array();
  for (const PartChance& part : result.parts) {
    parts.push_back({{"part", part.part},
                     {"mode", part.mode},
                     {"chance", json_of(part.chance)},
                     {"ratio", part.ratio},
                     {"holds_Pa", part.holds}});
  }
  return parts;
}

Json mistakes_json(const ScatterResult& result) {
  Json mistakes = Json::array();
  for (const Mistake& mistake : result.mistakes) {
    Json json = {{"mistake", mistake.name},
                 {"kind", name_of(mistake.fault.kind)},
                 {"probability", mistake.fault.probability}};
    json.update(firing_json(mistake.firing));
    mistakes.push_back(json);
  }
  return mistakes;
}

}  // namespace

Json json_of(const Job& job, const Assessment& found) {
  const ScatterResult& result = *found.scatter;
  Json json = {{"samples", result.samples},
               {"seed", result.seed},
               {"replicates", result.replicates},
               {"stopped", result.stopped},
               {"as_drawn", firing_json(result.as_drawn)},
               {"peak_pressure_Pa", percentiles_json(result.peak_pressure)},
               {"peak_thrust_N", percentiles_json(result.peak_thrust)},
               {"total_impulse_Ns", percentiles_json(result.total_impulse)},
               {"burn_time_s", percentiles_json(result.burn_time)}};
  if (result.rail_speed) json["rail_exit_speed_m_s"] = percentiles_json(*result.rail_speed);
  json["mean_peak_pressure_Pa"] = json_of(result.mean_pressure);
  json["sigma_peak_pressure_Pa"] = json_of(result.sigma_pressure);
  json["ceiling_Pa"] = result.ceiling ? Json(*result.ceiling) : Json();
  json["chance_over_ceiling"] = optional_json(result.over_ceiling);
  json["judged"] = {{"model", result.judged.model},
                    {"ratio", result.judged.ratio},
                    {"checked", result.judged.checked},
                    {"greatest_difference", result.judged.greatest_difference},
                    {"raised", result.judged.raised},
                    {"over_in_full", result.judged.over_in_full},
                    {"over_carried", result.judged.over_carried}};
  json["port_chokes"] = json_of(result.port_chokes);
  if (job.limits.confidence > 0) json["confidence"] = job.limits.confidence;
  json["parts"] = parts_json(result);
  json["chance_anything_gives"] = optional_json(result.anything_gives);
  json["shares"] = shares_json(result);
  json["mistakes"] = mistakes_json(result);
  json["histogram"] = {{"from_Pa", result.histogram.from},
                       {"step_Pa", result.histogram.step},
                       {"share", result.histogram.share}};
  json["thrust_band"] = {{"time_s", result.thrust.time},
                         {"p5_N", result.thrust.p5},
                         {"p50_N", result.thrust.p50},
                         {"p95_N", result.thrust.p95}};
  json["heat_check"] = {{"firings", result.heat.firings},
                        {"greatest_error", result.heat.greatest_error}};
  json["remarks"] = scatter_remarks(job, found);
  return {
      {"verdict", cli::json_of(found.verdict)}, {"judged", judged_json(found)}, {"scatter", json}};
}

}  // namespace grainwright::cli
