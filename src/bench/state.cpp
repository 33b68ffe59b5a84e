// SPDX-License-Identifier: GPL-3.0-or-later
#include "state.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "grainwright/error.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/search/even.hpp"

namespace grainwright::bench {
namespace {

constexpr double default_lead = 1.5;
constexpr double longest = 100;  // m, of anything; keeps numbers finite

Asked asked_of(const Job& job) {
  if (!job.wish) return {};
  if (job.wish->for_the_rail) return {Asked::Shape::as_given, default_lead};
  const Profile& profile = job.wish->profile;
  if (profile == Profile::flat()) return {Asked::Shape::flat, default_lead};
  const double lead = profile.points().front().thrust;
  const bool front = profile.straight() && lead > 1 && lead <= 2;
  if (front && profile == Profile::front_loaded(lead)) return {Asked::Shape::front_loaded, lead};
  return {Asked::Shape::as_given, default_lead};
}

/// As many even segments as the room takes, on the first rod with which one fits.
std::vector<Layer> even_layers(const Job& job) {
  const double outer = job.casing->grain_outer_diameter();
  const double room = job.casing->grain_room;
  const double spacer = job.grain.spacer;
  for (double core : job.shop->mandrels) {
    if (core >= outer) continue;
    double length = even_stack(outer, core, 1).length;
    const double step = job.shop->length_step;
    if (step > 0) length = std::max(step, std::floor(length / step) * step);
    const int fit = static_cast<int>(std::floor((room + spacer) / (length + spacer)));
    if (fit < 1) continue;
    const int count = std::min({fit, job.shop->most_segments, most_segments});
    return {Layer{{.length = length, .outer_diameter = outer, .core_diameter = core}, count}};
  }
  return {};
}

double quantity(const Json& json, const std::string& key, Dimension dimension) {
  const auto found = json.find(key);
  if (found == json.end()) throw InputError(key, "missing", std::string(example_of(dimension)));
  if (found->is_string()) {
    try {
      return read_quantity(found->get<std::string>(), dimension);
    } catch (const InputError& error) {
      throw InputError(key, error.complaints().front().given, error.complaints().front().allowed);
    }
  }
  if (!found->is_number()) {
    throw InputError(key, found->type_name(), std::string(example_of(dimension)));
  }
  const double value = found->get<double>();
  if (!std::isfinite(value)) throw InputError(key, "no finite number", "a finite one");
  return value;
}

double length_of(const Json& json, const std::string& key) {
  const double value = quantity(json, key, Dimension::length);
  if (!(value >= 0 && value <= longest)) {
    throw InputError(key, write_quantity(value, Dimension::length), "from 0 to 100 m");
  }
  return value;
}

Faces read_faces(const Json& list) {
  Faces faces;
  if (!list.is_array()) throw InputError("inhibited", list.type_name(), "a list of faces");
  for (const Json& item : list) {
    const auto face = std::ranges::find_if(
        all_faces, [&](Face known) { return item.is_string() && item == name_of(known); });
    if (face == all_faces.end()) {
      throw InputError("inhibited", item.type_name(),
                       R"(any of "head", "nozzle", "core", "outer")");
    }
    faces.insert(*face);
  }
  return faces;
}

int read_count(const Json& json) {
  const auto found = json.find("count");
  const bool whole = found != json.end() && found->is_number_integer();
  const double count = whole ? found->get<double>() : 0;
  if (!(count >= 1 && count <= most_segments)) {
    throw InputError("count", whole ? fmt::format("{:.0f}", count) : "no whole number",
                     fmt::format("a whole number from 1 to {}", most_segments));
  }
  return static_cast<int>(count);
}

/// The job's own segment whose core is kept, as it cannot be told by a diameter.
const Segment& kept_segment(const Json& kept, const Job& job) {
  const auto& layers = job.grain.layers;
  const bool whole = kept.is_number_unsigned();
  const std::size_t i = whole ? kept.get<std::size_t>() : layers.size();
  if (i >= layers.size() || !layers[i].segment.core) {
    throw InputError("kept", "no such core", "the place of a segment of the job, from 0");
  }
  return layers[i].segment;
}

Layer read_layer(const Json& json, const Job& job) {
  if (!json.is_object()) throw InputError("segments", json.type_name(), "a table each");
  Layer layer;
  layer.count = read_count(json);
  const auto kept = json.find("kept");
  const double length = length_of(json, "length_m");
  if (kept != json.end()) layer.segment = with_length(kept_segment(*kept, job), length);
  layer.segment.length = length;
  layer.segment.outer_diameter =
      job.casing ? job.casing->grain_outer_diameter() : length_of(json, "outer_m");
  if (!layer.segment.core) layer.segment.core_diameter = length_of(json, "core_m");
  const auto inhibited = json.find("inhibited");
  if (inhibited != json.end()) layer.segment.inhibited = read_faces(*inhibited);
  return layer;
}

std::vector<Layer> read_layers(const Json& json, const Job& job) {
  const auto found = json.find("segments");
  if (found == json.end() || !found->is_array() || found->empty() ||
      found->size() > static_cast<std::size_t>(most_layers)) {
    throw InputError("segments", "none, or too many",
                     fmt::format("a list of 1 to {} kinds", most_layers));
  }
  Grain grain;
  for (const Json& item : *found) grain.layers.push_back(read_layer(item, job));
  if (grain.segment_count() > most_segments) {
    throw InputError("segments", fmt::format("{} in all", grain.segment_count()),
                     fmt::format("at most {}", most_segments));
  }
  return grain.layers;
}

Asked read_asked(const Json& json) {
  const auto found = json.find("profile");
  if (found == json.end() || !found->is_object()) throw InputError("profile", "none", "a table");
  const Json& asked = *found;
  const auto named = asked.find("name");
  const bool is_text = named != asked.end() && named->is_string();
  const std::string name = is_text ? named->get<std::string>() : "";
  for (Asked::Shape shape :
       {Asked::Shape::flat, Asked::Shape::front_loaded, Asked::Shape::as_given}) {
    if (name != name_of(shape)) continue;
    const double lead =
        asked.contains("lead") ? quantity(asked, "lead", Dimension::ratio) : default_lead;
    if (!(lead > 1 && lead <= 2))
      throw InputError("lead", fmt::format("{}", lead), "over 1, up to 2");
    return {shape, lead};
  }
  throw InputError("profile", '"' + name + '"', "flat, front-loaded or as given");
}

Profile profile_of(const Asked& asked, const Profile& given) {
  switch (asked.shape) {
    case Asked::Shape::flat:
      return Profile::flat();
    case Asked::Shape::front_loaded:
      return Profile::front_loaded(asked.lead);
    case Asked::Shape::as_given:
      break;
  }
  return given;
}

/// Of a round port of the same area, where the core is another one.
double port_diameter(const Segment& segment) {
  if (!segment.core) return segment.core_diameter;
  return complaints(segment).empty() ? state_at(segment, 0).core_diameter : 0;
}

/// Of the job's segment with this core, carried on to this length.
std::size_t place_of(const Segment& segment, const Job& job) {
  const auto has_core = [&segment](const Layer& layer) {
    const auto& core = layer.segment.core;
    return core && *with_length(layer.segment, segment.length).core == *segment.core;
  };
  const auto& layers = job.grain.layers;
  return static_cast<std::size_t>(
      std::ranges::distance(layers.begin(), std::ranges::find_if(layers, has_core)));
}

}  // namespace

std::string_view name_of(Asked::Shape shape) {
  switch (shape) {
    case Asked::Shape::flat:
      return "flat";
    case Asked::Shape::front_loaded:
      return "front-loaded";
    case Asked::Shape::as_given:
      return "as given";
  }
  return "";
}

State starting_state(const Job& job) {
  std::vector<Complaint> missing;
  const auto need = [&missing](bool there, const char* key, const char* what) {
    if (!there) missing.push_back({key, "missing", std::string(what) + "; the bench needs it"});
  };
  need(job.propellant.has_value(), "propellant", "a [propellant] table");
  need(job.nozzle.has_value(), "nozzle", "a [nozzle] table");
  const bool stack = !job.grain.layers.empty();
  need(stack || job.casing, "casing", "a [casing] table, or at least one [[segment]]");
  need(stack || (job.shop && !job.shop->mandrels.empty()), "shop",
       "a [shop] table with mandrels, or at least one [[segment]]");
  if (!missing.empty()) throw InputError(missing);
  State state;
  state.layers = stack ? job.grain.layers : even_layers(job);
  if (state.layers.empty()) {
    throw InputError("casing.grain_room", write_length(job.casing->grain_room),
                     "room for one even segment on a mandrel of the shop, or a [[segment]]");
  }
  const Grain grain{state.layers, 0};
  if (std::ssize(state.layers) > most_layers || grain.segment_count() > most_segments) {
    throw InputError(
        "segment", fmt::format("{} of {} kinds", grain.segment_count(), state.layers.size()),
        fmt::format("at most {} of {} kinds on the bench", most_segments, most_layers));
  }
  state.throat = job.nozzle->throat_diameter;
  if (state.throat == 0) state.throat = job.shop->throats[job.shop->throats.size() / 2];
  state.temperature = job.day.temperature;
  state.asked = asked_of(job);
  return state;
}

Job with_state(const Job& job, const State& state) {
  Job changed = job;
  changed.grain.layers = state.layers;
  changed.nozzle = job.nozzle->drilled_to(state.throat);
  changed.day.temperature = state.temperature;
  if (changed.wish) {
    changed.wish->profile = profile_of(state.asked, job.wish->profile);
    if (state.asked.shape != Asked::Shape::as_given) changed.wish->for_the_rail = false;
  }
  return changed;
}

State read_state(const Json& json, const Job& job) {
  if (!json.is_object()) throw InputError("state", json.type_name(), "a table");
  State state;
  state.layers = read_layers(json, job);
  state.throat = length_of(json, "throat_m");
  state.temperature = quantity(json, "temperature_K", Dimension::temperature);
  state.asked = read_asked(json);
  return state;
}

Json json_of(const State& state, const Job& job) {
  Json layers = Json::array();
  for (const auto& [segment, count] : state.layers) {
    Json faces = Json::array();
    for (Face face : all_faces) {
      if (segment.inhibited.contains(face)) faces.push_back(name_of(face));
    }
    layers.push_back({{"count", count},
                      {"length_m", segment.length},
                      {"core_m", port_diameter(segment)},
                      {"inhibited", std::move(faces)}});
    if (!job.casing) layers.back()["outer_m"] = segment.outer_diameter;
    if (segment.core) layers.back()["kept"] = place_of(segment, job);
  }
  Json profile = {{"name", name_of(state.asked.shape)}};
  if (state.asked.shape == Asked::Shape::front_loaded) profile["lead"] = state.asked.lead;
  return {{"segments", std::move(layers)},
          {"throat_m", state.throat},
          {"temperature_K", state.temperature},
          {"profile", std::move(profile)}};
}

}  // namespace grainwright::bench
