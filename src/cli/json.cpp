// SPDX-License-Identifier: GPL-3.0-or-later
#include "json.hpp"

#include "grainwright/grain/core_figures.hpp"

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

Json json_of(const Summary& s) {
  return {{"initial_burning_area_m2", s.initial_burning_area},
          {"peak_burning_area_m2", s.peak_burning_area},
          {"initial_kn", s.initial_kn},
          {"peak_kn", s.peak_kn},
          {"initial_pressure_Pa", s.initial_pressure},
          {"peak_pressure_Pa", s.peak_pressure},
          {"mean_pressure_Pa", s.mean_pressure},
          {"initial_thrust_N", s.initial_thrust},
          {"peak_thrust_N", s.peak_thrust},
          {"mean_thrust_N", s.mean_thrust},
          {"burn_time_s", s.burn_time},
          {"total_impulse_Ns", s.total_impulse},
          {"specific_impulse_s", s.specific_impulse},
          {"propellant_mass_kg", s.propellant_mass},
          {"letter_class", s.letter_class},
          {"port_to_throat", s.port_to_throat},
          {"peak_mass_flux_kg_m2s", s.peak_mass_flux}};
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
  return {{"end", end},
          {"rail_exit_speed_m_s", f.rail_exit_speed},
          {"thrust_to_weight", f.thrust_to_weight},
          {"least_thrust_to_weight", f.least_thrust_to_weight},
          {"exit_thrust_to_weight", f.exit_thrust_to_weight},
          {"liftoff_mass_kg", f.liftoff_mass},
          {"first_motion_s", f.first_motion},
          {"rail_exit_time_s", f.rail_exit_time},
          {"rail_exit_acceleration_m_s2", f.rail_exit_acceleration},
          {"peak_acceleration_m_s2", f.peak_acceleration},
          {"peak_speed_m_s", f.peak_speed},
          {"peak_mach", f.peak_mach},
          {"burnout_time_s", f.burnout_time},
          {"burnout_speed_m_s", f.burnout_speed},
          {"burnout_height_m", f.burnout_height},
          {"apogee_m", f.apogee},
          {"time_to_apogee_s", f.apogee_time},
          {"apogee_downrange_m", f.apogee_downrange},
          {"best_delay_s", f.best_delay}};
}

Json json_of(const std::vector<Check>& checks) {
  Json list = Json::array();
  for (const Check& check : checks) {
    std::string unit = suffix(check.limit.dimension);
    list.push_back({{"key", check.limit.key},
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
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace grainwright::cli
