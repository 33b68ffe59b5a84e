// SPDX-License-Identifier: GPL-3.0-or-later
#include "json.hpp"

#include <fmt/format.h>

#include "grainwright/grain/core_figures.hpp"
#include "grainwright/utf8.hpp"
#include "limit_words.hpp"

namespace grainwright::cli {
namespace {

/// What ends a key that holds such a quantity in SI.
std::string suffix(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
    case Dimension::distance:
      return "_m";
    case Dimension::speed:
      return "_m_s";
    case Dimension::time:
      return "_s";
    case Dimension::pressure:
      return "_Pa";
    case Dimension::force:
      return "_N";
    case Dimension::impulse:
      return "_Ns";
    case Dimension::mass_flux:
      return "_kg_m2s";
    default:
      return "";
  }
}

}  // namespace

Json json_of(const EvenStack& stack) {
  return {{"segments", stack.segments},
          {"length_m", stack.length},
          {"total_length_m", stack.total_length},
          {"hump", stack.hump}};
}

Json json_of(const std::vector<Column>& columns) {
  Json json = Json::object();
  for (const Column& column : columns) json[column.name] = column.values;
  return json;
}

Json json_of(const Summary& summary) {
  Json json = Json::object();
  for (const FigureRow& row : figure_table()) {
    if (row.fired == nullptr) continue;
    json[row.key] = summary.*row.fired;
    if (row.fired == &Summary::propellant_mass) json["letter_class"] = summary.letter_class;
  }
  return json;
}

Json judged_json(const Assessment& found) {
  const Ports& ports = found.ports;
  return {{"peak_pressure_Pa", found.peak_pressure.value},
          {"peak_pressure_model", source_of_peak(found)},
          {"peak_mass_flux_kg_m2s", ports.mass_flux},
          {"port_chokes", ports.flow == PortFlow::chokes},
          {"peak_port_mach", ports.mach},
          {"head_to_nozzle_ratio", ports.head_ratio}};
}

Json json_of(const TransientFigures& f) {
  // What is not reached is null, so that the keys are always there.
  const auto maybe = [](std::optional<double> value) { return value ? Json(*value) : Json(); };
  return {{"igniter_pressure_Pa", f.igniter_pressure},
          {"free_volume_m3", f.free_volume},
          {"filling_time_s", f.filling_time},
          {"rise_time_s", maybe(f.rise_time)},
          {"delay_s", maybe(f.delay)},
          {"rise_end_s", maybe(f.rise_end)},
          {"action_time_s", f.action_time},
          {"tail_off_time_s", f.tail_off_time},
          {"gas_at_lighting_kg", f.gas_at_lighting},
          {"gas_left_kg", f.gas_left},
          {"gas_out_kg", f.gas_out}};
}

Json json_of(const AxialFigures& f) {
  Json profiles = Json::array();
  for (const PortProfile& port : f.profiles) {
    profiles.push_back({{"time_s", port.time},
                        {"position_m", port.position},
                        {"pressure_Pa", port.pressure},
                        {"mach", port.mach},
                        {"mass_flux_kg_m2s", port.mass_flux},
                        {"rate_m_s", port.rate},
                        {"web_m", port.web}});
  }
  return {{"slices", f.slices},
          {"peak_port_mach", f.peak_port_mach},
          {"peak_head_excess", f.peak_head_excess},
          {"peak_rate_gain", f.peak_rate_gain},
          {"gas_out_kg", f.gas_out},
          {"profiles", profiles}};
}

Json json_of(const Flight& f) {
  const auto end = f.end == FlightEnd::apogee        ? "apogee"
                   : f.end == FlightEnd::never_lifts ? "never lifts"
                                                     : "stays on the rail";
  Json json = {{"end", end}};
  for (const FigureRow& row : figure_table()) {
    if (row.flown != nullptr) json[row.key] = f.*row.flown;
  }
  return json;
}

Json json_of(const std::vector<Check>& checks) {
  Json list = Json::array();
  for (const Check& check : checks) {
    std::string unit = suffix(check.limit.row->row().dimension);
    list.push_back({{"key", check.limit.row->key},
                    {check.limit.ceiling ? "at_most" + unit : "at_least" + unit, check.limit.value},
                    {"value" + unit, check.value},
                    {"broken", check.broken()}});
  }
  return list;
}

Json json_of(Faces faces) {
  Json list = Json::array();
  for (Face face : all_faces) {
    if (faces.contains(face)) list.push_back(name_of(face));
  }
  return list;
}

namespace {

// A named shape's numbers, SI, unit as suffix.
struct ShapeJson {
  Json json;
  void operator()(const char* key, double value, Dimension dimension, Need) {
    const char* suffix = dimension == Dimension::length  ? "_m"
                         : dimension == Dimension::angle ? "_rad"
                                                         : "";
    json[std::string(key) + suffix] = value;
  }
  void operator()(const char* key, int value, Need) { json[key] = value; }
  void operator()(const char* key, bool round, Need) { json[key] = round ? "round" : "square"; }
};

// A diameter where the core is plain, else a table as in the job, in metres.
struct CoreJson {
  Json operator()(const TurnedCore& core) const {
    Json stations = Json::array();
    for (const CoreStation& station : core.stations) {
      stations.push_back({{"at_m", station.at}, {"diameter_m", station.diameter}});
    }
    Json slots = Json::array();
    for (const CoreSlot& slot : core.slots) {
      slots.push_back({{"at_m", slot.at}, {"width_m", slot.width}, {"depth_m", slot.depth}});
    }
    return {{"diameters", stations},
            {"slots", slots},
            {"head_dish_m", core.head_dish},
            {"nozzle_dish_m", core.nozzle_dish}};
  }
  Json operator()(const OffCentreCore& core) const {
    return {{"diameter_m", core.diameter}, {"offset_m", core.offset}, {"count", core.count}};
  }
  Json operator()(const ScatteredCores& core) const {
    Json rounds = Json::array();
    for (const RoundCore& round : core.cores) {
      rounds.push_back(
          {{"diameter_m", 2 * round.radius}, {"x_m", round.centre.x}, {"y_m", round.centre.y}});
    }
    return {{"round", rounds}};
  }
  Json operator()(const NamedCore& core) const {
    ShapeJson numbers{{{"shape", name_of(core)}}};
    std::visit([&](const auto& shape) { each_figure(shape, numbers); }, core.shape);
    return numbers.json;
  }
  Json operator()(const DrawnCore& core) const {
    return {{"outline", core.source}, {"unit", core.unit}};
  }
};

Json core_json(const Segment& segment) {
  if (segment.core) return std::visit(CoreJson{}, segment.core->shape);
  return segment.core_diameter;
}

}  // namespace

Json json_of(const Grain& grain) {
  Json list = Json::array();
  for (const Layer& layer : grain.layers) {
    list.push_back({{"count", layer.count},
                    {"length_m", layer.segment.length},
                    {layer.segment.core ? "core" : "core_m", core_json(layer.segment)},
                    {"inhibited", json_of(layer.segment.inhibited)}});
  }
  return list;
}

Json json_of(const std::vector<Design>& designs) {
  Json list = Json::array();
  for (const Design& design : designs) {
    list.push_back({{"rank", list.size() + 1},
                    {"misfit", design.misfit},
                    {"loading", design.loading},
                    {"segments", json_of(design.grain)},
                    {"throat_m", design.throat_diameter},
                    {"summary", json_of(design.summary)},
                    {"strength", design.strength},
                    {"gives_up", design.gives_up}});
    if (design.flight) list.back()["fly"] = json_of(*design.flight);
    if (design.pressure_at_confidence > 0) {
      list.back()["pressure_at_confidence_Pa"] = design.pressure_at_confidence;
    }
  }
  return list;
}

Json json_of(const std::vector<Relief>& reliefs) {
  Json list = Json::array();
  for (const Relief& relief : reliefs) {
    std::string unit = suffix(dimension_of_limit(relief.key));
    Json one = {{"key", relief.key}, {"asked" + unit, relief.asked}, {"enough", relief.enough}};
    if (relief.enough) one["needed" + unit] = relief.needed;
    list.push_back(std::move(one));
  }
  return list;
}

Json json_of(const CutList& list) {
  Json pieces = Json::array();
  for (const CutPiece& piece : list.pieces) {
    pieces.push_back({{"count", piece.count},
                      {"tube_length_m", piece.tube_length},
                      {"propellant_length_m", piece.propellant_length},
                      {piece.segment.core ? "mandrel" : "mandrel_m", core_json(piece.segment)},
                      {"mandrel_length_m", piece.mandrel_length},
                      {"inhibited", json_of(piece.segment.inhibited)},
                      {"mass_kg", piece.mass},
                      {"accept_kg", {piece.lightest, piece.heaviest}}});
  }
  Json portions = Json::array();
  for (const Portion& portion : list.portions) {
    portions.push_back({{"name", portion.name}, {"mass_kg", portion.mass}});
  }
  // What is not known is null, so that the keys are always there.
  return {{"segments", pieces},
          {"spacers", list.spacers},
          {"spacer_m", list.spacer},
          {"stack_length_m", list.stack_length},
          {"room_left_m", list.grain_room > 0 ? Json(list.room_left) : Json()},
          {"propellant_kg", list.propellant_mass},
          {"batch_kg", list.batch},
          {"portions", portions},
          {"stock_tubes", list.saw_plan ? Json(list.saw_plan->tubes.size()) : Json()},
          {"left_over_m", list.saw_plan ? Json(list.saw_plan->left_over) : Json()},
          {"remarks", list.remarks}};
}

std::string written(const Json& json) {
  // A title in a broken encoding is no reason to withhold the figures.
  const std::string dumped = json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
  // C0 is escaped by now; the rest of what a terminal obeys can stand only inside texts, where an
  // escape says the same to whoever reads the JSON.
  std::string text;
  text.reserve(dumped.size());
  for (std::string_view rest = dumped; !rest.empty();) {
    const Character next = character_at(rest);
    if (next.code != '\n' && commands_terminal(next.code)) {
      text += fmt::format("\\u{:04x}", next.code);
    } else {
      text += rest.substr(0, next.size);
    }
    rest.remove_prefix(next.size);
  }
  return text;
}

}  // namespace grainwright::cli
