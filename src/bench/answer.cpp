// SPDX-License-Identifier: GPL-3.0-or-later
#include "answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "axis.hpp"
#include "cli/json.hpp"
#include "cli/models.hpp"
#include "cli/numbers.hpp"
#include "cli/strength.hpp"
#include "cli/verdict_page.hpp"
#include "cli/words.hpp"
#include "core_picture.hpp"
#include "grainwright/assessment/assessment.hpp"
#include "grainwright/error.hpp"
#include "sentences.hpp"

namespace grainwright::bench {
namespace {

/// Six digits: a pixel is coarser, and a move is to travel fast.
Json for_drawing(const std::vector<double>& values) {
  Json list = Json::array();
  for (double value : values) {
    const double scale = std::pow(10, 5 - std::floor(std::log10(std::abs(value))));
    list.push_back(value == 0 ? 0.0 : std::round(value * scale) / scale);
  }
  return list;
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

  void add(const char* key, double value, const std::string& more = "",
           const std::string& where = "") {
    const FigureRow& row = figure_row(key);
    list_.push_back({{"key", key},
                     {"name", std::string(row.label) + where},
                     {"value", value},
                     {"text", show(value, row.dimension, units_) + more}});
  }
  void add(const Assessment& found) {
    const Summary& s = found.firing.summary;
    const auto fired = [&](const char* key) { add(key, s.*figure_row(key).fired); };
    fired("initial_thrust_N");
    fired("peak_thrust_N");
    fired("mean_thrust_N");
    add("peak_pressure_Pa", found.peak_pressure.value, "", ", head end");
    fired("burn_time_s");
    add("total_impulse_Ns", s.total_impulse, ", class " + s.letter_class);
    fired("specific_impulse_s");
    fired("propellant_mass_kg");
    if (s.port_to_throat > 0) fired("port_to_throat");
    if (!found.flight) return;
    for (const char* key : {"thrust_to_weight", "rail_exit_speed_m_s", "apogee_m"}) {
      add(key, *found.flight.*figure_row(key).flown);
    }
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

/// A sentence a limit. The room and the loading have words of their own.
std::vector<Sentence> limit_sentences(const Job& job, const Assessment& found) {
  std::vector<Sentence> sentences;
  for (const Check& check : found.checks) {
    if (check.limit.row->row().of != FigureOf::build) sentences.push_back(said(check, job.units));
  }
  for (auto part : {room_sentences(job), loading_sentences(job)}) {
    sentences.insert(sentences.end(), part.begin(), part.end());
  }
  return sentences;
}

Json verdict_of(const Assessment& found, UnitSystem units) {
  Json json = cli::json_of(found.verdict);
  json["sentence"] = cli::first_sentence(found, units) + ".";
  return json;
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

void add_rest(Json& json, const Job& job, const Assessment& found) {
  json["remarks"] = cli::remarks_of(job, found);
  for (const std::string& line :
       cli::differences(found, Model::transient, found.firing.summary, job.units)) {
    json["remarks"].push_back(line);
  }
  json["cuts"] = cuts_of(job);
  if (!found.margins) return;
  json["margins"] = json_of(said(*found.margins, job.units));
  json["margins_verdict"] = cli::strength_sentence(*found.margins, job.units);
}

/// Everything that a motor gives; throws InputError where the state is none. A move asks one model.
void add_firing(Json& json, const Job& job, const State& state, bool full) {
  const Question question = question_of(job);
  const Assessment found = assess(question, {.glance = !full, .units = job.units});
  const Summary& summary = found.firing.summary;
  json["verdict"] = verdict_of(found, job.units);
  json["summary"] = cli::json_of(summary);
  Figures figures(job.units);
  figures.add(found);
  json["figures"] = figures.list();
  json["limits"] = json_of(limit_sentences(job, found));
  json["curves"] = curves_of(found.firing, job);
  if (job.wish && !job.wish->for_the_rail) {
    const double stray = misfit(question.motor, job.wish->profile);
    json["fit"] = {{"misfit", stray},
                   {"text", fit_words(stray, state.asked)},
                   {"line", asked_line(job.wish->profile, summary)}};
  }
  if (full) add_rest(json, job, found);
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
