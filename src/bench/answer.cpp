// SPDX-License-Identifier: GPL-3.0-or-later
#include "answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "axis.hpp"
#include "cli/check.hpp"
#include "cli/json.hpp"
#include "cli/numbers.hpp"
#include "cli/prediction.hpp"
#include "cli/strength.hpp"
#include "cli/words.hpp"
#include "core_picture.hpp"
#include "grainwright/error.hpp"
#include "grainwright/firing/axial.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/flight/flight.hpp"
#include "sentences.hpp"

namespace grainwright::bench {
namespace {

using cli::Prediction;

/// Six digits: a pixel is coarser, and a move is to travel fast.
Json for_drawing(const std::vector<double>& values) {
  Json list = Json::array();
  for (double value : values) {
    const double scale = std::pow(10, 5 - std::floor(std::log10(std::abs(value))));
    list.push_back(value == 0 ? 0.0 : std::round(value * scale) / scale);
  }
  return list;
}

/// A move asks one model; at rest the axial firing is asked too.
Prediction predicted(const Job& job, bool full) {
  if (full) return cli::predict(job, cli::Model::transient, AxialOptions{}.slices);
  return {.model = cli::Model::transient,
          .firing = fire_transient(motor_of(job), {.lighting = lighting_of(job)}),
          .axial = {},
          .others = {}};
}

std::string core_words(const Segment& segment, UnitSystem units) {
  if (segment.core) return cli::core_of(segment, units);
  return segment.solid() ? "solid" : show_length(segment.core_diameter, units);
}

/// Values of the state as a person reads them.
Json shown(const State& state, UnitSystem units) {
  Json layers = Json::array();
  for (const Layer& layer : state.layers) {
    layers.push_back({{"length", show_length(layer.segment.length, units)},
                      {"core", core_words(layer.segment, units)},
                      {"picture", picture_of(layer.segment)}});
  }
  return {{"segments", std::move(layers)},
          {"throat", show_length(state.throat, units)},
          {"temperature", show(state.temperature, Dimension::temperature, units)},
          {"lead", fmt::format("{:.3g}", state.asked.lead)}};
}

/// Figures that the page lists, each under the key that the command line's JSON has for it.
class Figures {
 public:
  explicit Figures(UnitSystem units) : units_(units) {}

  void add(const char* key, const char* name, double value, Dimension dimension,
           const std::string& more = "") {
    list_.push_back({{"key", key},
                     {"name", name},
                     {"value", value},
                     {"text", show(value, dimension, units_) + more}});
  }
  void add(const Summary& s) {
    using enum Dimension;
    add("initial_thrust_N", "thrust at lighting", s.initial_thrust, force);
    add("peak_thrust_N", "peak thrust", s.peak_thrust, force);
    add("mean_thrust_N", "mean thrust", s.mean_thrust, force);
    add("peak_pressure_Pa", "peak pressure", s.peak_pressure, pressure);
    add("burn_time_s", "burn time", s.burn_time, time);
    add("total_impulse_Ns", "total impulse", s.total_impulse, impulse, ", class " + s.letter_class);
    add("specific_impulse_s", "specific impulse", s.specific_impulse, time);
    add("propellant_mass_kg", "propellant", s.propellant_mass, mass);
    if (s.port_to_throat > 0) add("port_to_throat", "port / throat area", s.port_to_throat, ratio);
  }
  void add(const Flight& flight) {
    using enum Dimension;
    add("thrust_to_weight", "thrust / weight", flight.thrust_to_weight, ratio);
    add("rail_exit_speed_m_s", "speed off the rail", flight.rail_exit_speed, speed);
    add("apogee_m", "height reached", flight.apogee, distance);
  }
  [[nodiscard]] const Json& list() const { return list_; }

 private:
  UnitSystem units_;
  Json list_ = Json::array();
};

/// The greatest thrust that the asked profile wants of this firing's mean; 0 where none is asked.
double asked_peak(const Job& job, const Summary& summary) {
  if (!job.wish || job.wish->for_the_rail) return 0;
  return summary.mean_thrust *
         std::ranges::max(job.wish->profile.points(), {}, &Profile::Point::thrust).thrust;
}

Json curves_of(const Firing& firing, const Job& job) {
  using enum Dimension;
  const Curve& curve = firing.curve;
  const double ceiling = std::isfinite(job.limits.pressure) ? job.limits.pressure : 0;
  const double tallest = std::max(std::ranges::max(curve.pressure), ceiling);
  const double strongest =
      std::max(std::ranges::max(curve.thrust), asked_peak(job, firing.summary));
  return {{"time_s", for_drawing(curve.time)},
          {"thrust_N", for_drawing(curve.thrust)},
          {"pressure_Pa", for_drawing(curve.pressure)},
          {"axes",
           {{"time", axis_to(curve.time.back(), time, job.units)},
            {"thrust", axis_to(strongest, force, job.units)},
            {"pressure", axis_to(tallest, pressure, job.units)}}}};
}

/// The asked profile at this firing's mean thrust and burn time, as a line to draw.
Json asked_line(const Profile& profile, const Summary& summary) {
  Json line = Json::array();
  for (const Profile::Point& point : profile.points()) {
    line.push_back({point.fraction * summary.burn_time, point.thrust * summary.mean_thrust});
  }
  return line;
}

/// The flight that `fly` tells.
std::optional<Flight> flown(const Job& job, const Motor& motor) {
  constexpr int points = 801;
  if (!job.airframe) return std::nullopt;
  return fly(fire_transient(motor, {.lighting = lighting_of(job), .points = points}), motor,
             *job.airframe);
}

std::vector<Sentence> limit_sentences(const Job& job, const Prediction& prediction,
                                      const std::optional<Flight>& flight) {
  std::vector<Sentence> sentences;
  const auto add = [&](const std::vector<cli::Check>& checks) {
    for (const cli::Check& check : checks) sentences.push_back(said(check, job.units));
  };
  if (prediction.chokes) {
    sentences.push_back(
        {"ports", Mood::broken, "A port CHOKES before the throat: the figures here are too kind!"});
  }
  const Summary judged = prediction.judged();
  std::vector<cli::Check> limits = cli::checked(cli::set_limits(job.limits), judged);
  for (cli::Check& check : limits) {
    const bool pressure = check.limit.figure == &Summary::peak_pressure;
    const bool along = judged.peak_pressure > prediction.firing.summary.peak_pressure;
    if (pressure && along) check.limit.what = "peak pressure at the head end";
  }
  add(limits);
  if (job.wish) add(cli::checked(cli::set_bounds(*job.wish), prediction.firing.summary));
  if (job.wish && flight) add(cli::checked(cli::set_bounds(*job.wish), *flight));
  for (auto part : {room_sentences(job), loading_sentences(job)}) {
    sentences.insert(sentences.end(), part.begin(), part.end());
  }
  return sentences;
}

Json cuts_of(const Job& job) {
  const WorkshopOptions options = workshop_options_of(job);
  const CutList list = cut_list(job.grain, *job.propellant, options);
  Json rows = Json::array();
  for (const CutPiece& piece : list.pieces) {
    rows.push_back({{"count", piece.count},
                    {"tube", show_length(piece.tube_length, job.units)},
                    {"rod", piece.segment.solid() ? "none" : core_words(piece.segment, job.units)},
                    {"mass", show(piece.mass, Dimension::mass, job.units)}});
  }
  Json cuts = {{"pieces", std::move(rows)},
               {"batch", show(list.batch, Dimension::mass, job.units)},
               {"tolerance", ""}};
  if (options.length_tolerance > 0) {
    cuts["tolerance"] = show_length(options.length_tolerance, job.units);
  }
  return cuts;
}

void add_rest(Json& json, const Job& job, const Prediction& prediction) {
  json["remarks"] = prediction.firing.remarks;
  for (const std::string& line : prediction.others) json["remarks"].push_back(line);
  json["cuts"] = cuts_of(job);
  if (!job.shell) return;
  const Margins found = margins(*job.shell, motor_of(job), prediction.hardest().curve);
  json["margins"] = json_of(said(found, job.units));
  json["margins_verdict"] = cli::verdict(found, job.units);
}

/// Everything that a motor gives; throws InputError where the state is none.
void add_firing(Json& json, const Job& job, const State& state, bool full) {
  const Motor motor = motor_of(job);
  const Prediction prediction = predicted(job, full);
  const Summary& summary = prediction.firing.summary;
  json["summary"] = cli::json_of(summary);
  Figures figures(job.units);
  figures.add(summary);
  const auto flight = flown(job, motor);
  if (flight) figures.add(*flight);
  json["figures"] = figures.list();
  json["limits"] = json_of(limit_sentences(job, prediction, flight));
  json["curves"] = curves_of(prediction.firing, job);
  if (job.wish && !job.wish->for_the_rail) {
    const double stray = misfit(motor, job.wish->profile);
    json["fit"] = {{"misfit", stray},
                   {"text", fit_words(stray, state.asked)},
                   {"line", asked_line(job.wish->profile, summary)}};
  }
  if (full) add_rest(json, job, prediction);
}

Json json_of(const Reach& reach) {
  return {
      {"least", reach.least}, {"most", reach.most}, {"step", reach.step}, {"stock", reach.stock}};
}

Json room_of(const Job& job) {
  if (!job.casing) return nullptr;
  const Casing& casing = *job.casing;
  return {{"length_m", casing.grain_room},
          {"bore_m", casing.bore},
          {"wall_m", casing.wall},
          {"tube_wall_m", casing.tube_wall},
          {"outer_m", casing.grain_outer_diameter()}};
}

}  // namespace

Json opening(const Job& job) {
  const Reaches reaches = reaches_of(job);
  const bool searches = job.casing && job.shop && job.wish && !job.shop->throats.empty();
  Json json = {
      {"title", job.title},
      {"room", room_of(job)},
      {"spacer_m", job.grain.spacer},
      {"exit_m", job.nozzle->exit_diameter},
      {"picture_scale", picture_scale},
      {"reaches",
       {{"length", json_of(reaches.length)},
        {"core", json_of(reaches.core)},
        {"throat", json_of(reaches.throat)},
        {"temperature", json_of(reaches.temperature)},
        {"lead", json_of(reaches.lead)}}},
      {"wishes", job.wish.has_value()},
      {"searches", searches},
      {"ceiling_Pa", std::isfinite(job.limits.pressure) ? Json(job.limits.pressure) : Json()},
      {"caution", cli::short_caution},
      {"start", json_of(starting_state(job), job)}};
  json["given_profile"] = json["start"]["profile"]["name"] == name_of(Asked::Shape::as_given);
  return json;
}

Json answer(const Json& request, const Job& job) {
  Json json = Json::object();
  try {
    if (!request.is_object()) throw InputError("request", request.type_name(), "a table");
    const Moved moved = read_moved(request);
    State state = read_state(request.value("state", Json()), job);
    if (!moved.what.empty()) state = kept_within(std::move(state), job);
    const auto is_free = request.find("free");
    const bool free = is_free != request.end() && *is_free == true;
    if (!free) state = snapped(std::move(state), moved, job);
    json["state"] = json_of(state, job);
    json["shown"] = shown(state, job.units);
    const auto is_full = request.find("full");
    const bool full = is_full != request.end() && *is_full == true;
    add_firing(json, with_state(job, state), state, full);
  } catch (const InputError& error) {
    json["refused"] = Json::array();
    for (const Complaint& complaint : error.complaints()) {
      json["refused"].push_back(complaint.text());
    }
  }
  return json;
}

}  // namespace grainwright::bench
