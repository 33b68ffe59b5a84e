// SPDX-License-Identifier: GPL-3.0-or-later
#include "strength.hpp"

#include <fmt/format.h>

#include "grainwright/assessment/limits.hpp"

namespace grainwright::cli {
namespace {

std::string ratio_words(double ratio) {
  return fmt::format("{:.2f}", ratio);
}

Json json_of(const PartMargin& part, const ModeMargin& mode) {
  return {{"mode", mode.mode},         {"load", mode.load},
          {"capacity", mode.capacity}, {"unit", part.force ? "N" : "Pa"},
          {"ratio", mode.ratio},       {"cold_ratio", mode.cold_ratio},
          {"at_s", mode.at},           {"temperature_K", mode.temperature},
          {"thrust_N", mode.thrust}};
}

}  // namespace

Table table_of(const Margins& margins, UnitSystem units) {
  Table table{.align = "llrrrrl",
              .head = {"part", "fails by", "at", "hottest", "ratio", "cold", ""}};
  for (const PartMargin& part : margins.parts) {
    const ModeMargin& mode = part.weakest();
    std::string words = mode.ratio < margins.factor                      ? "UNDER"
                        : mode.ratio < margins.factor * (1 + near_limit) ? "near"
                                                                         : "";
    table.rows.push_back({part.part, mode.mode, show(mode.at, Dimension::time, units, 3),
                          show(mode.temperature, Dimension::temperature, units, 3),
                          ratio_words(mode.ratio), ratio_words(mode.cold_ratio), words});
  }
  return table;
}

std::string strength_sentence(const Margins& margins, UnitSystem units) {
  const PartMargin& part = margins.weakest();
  const ModeMargin& mode = part.weakest();
  return fmt::format(
      "The {} fails first, by {}: {} after ignition it holds {} times its load (cold it would hold "
      "{}), {} {}.",
      part.part, mode.mode, show(mode.at, Dimension::time, units, 3), ratio_words(mode.ratio),
      ratio_words(mode.cold_ratio),
      margins.hold() ? "and keeps the asked factor of" : "UNDER the asked factor of",
      show(margins.factor, Dimension::ratio, units));
}

std::string ceiling_words(const Job& job, UnitSystem units) {
  const ColdCeiling ceiling = cold_ceiling(shell_of(job), job.day.ambient_pressure);
  return fmt::format("{} from strength: the {}, by {}, cold, over a factor of {}",
                     show(ceiling.pressure, Dimension::pressure, units), ceiling.part, ceiling.mode,
                     show(job.shell->factor, Dimension::ratio, units));
}

Json json_of(const Margins& margins) {
  Json parts = Json::array();
  for (const PartMargin& part : margins.parts) {
    Json json = {{"part", part.part}};
    json.update(json_of(part, part.weakest()));
    json["heat"] = {{"at_peak_pressure_K", part.heat.at_peak_pressure},
                    {"at_burnout_K", part.heat.at_burnout},
                    {"greatest_K", part.heat.greatest},
                    {"greatest_at_s", part.heat.greatest_at}};
    json["other_modes"] = Json::array();
    for (std::size_t i = 1; i < part.modes.size(); ++i) {
      json["other_modes"].push_back(json_of(part, part.modes[i]));
    }
    parts.push_back(json);
  }
  return {{"parts", parts},
          {"weakest", margins.weakest().part},
          {"factor", margins.factor},
          {"described_parts_hold", margins.hold()},
          {"allowed_pressure_Pa", margins.allowed_pressure},
          {"gas_coefficient_W_m2K", margins.coefficient}};
}

}  // namespace grainwright::cli
