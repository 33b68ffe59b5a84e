// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a window of the bench holds: a build, the throat, the grain's temperature and the asked
// profile. It travels whole in every request, so that the server remembers no window.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/job/job.hpp"

namespace grainwright::bench {

using Json = nlohmann::ordered_json;

/// The profile that is asked for: one of the two named ones, or what the job gives: points, or the
/// most impulse for the rail.
struct Asked {
  enum class Shape { flat, front_loaded, as_given };
  Shape shape = Shape::flat;
  double lead = 1.5;  ///< of the front-loaded one
  bool operator==(const Asked&) const = default;
};

[[nodiscard]] std::string_view name_of(Asked::Shape shape);

struct State {
  std::vector<Layer> layers;
  double throat = 0;       ///< m
  double temperature = 0;  ///< K, of the grain
  Asked asked;
  bool operator==(const State&) const = default;
};

/// Bounds on what a request may ask, so that none costs more than some milliseconds.
inline constexpr int most_layers = 12;
inline constexpr int most_segments = 40;

/// The job's own build; where it has none, the even stack that fits its room. Throws InputError
/// with what the bench lacks.
[[nodiscard]] State starting_state(const Job& job);

/// The job with this build in place of its own.
[[nodiscard]] Job with_state(const Job& job, const State& state);

/// A core other than a plain round one is the job's, and stays it: "kept" names the segment there.
/// Keys end in their unit; each quantity is a number in SI, or text with its unit. Throws
/// InputError that names the key.
[[nodiscard]] State read_state(const Json& json, const Job& job);
[[nodiscard]] Json json_of(const State& state, const Job& job);

/// What a drag has moved.
struct Moved {
  std::string what;  ///< "length", "core", "throat", "temperature" or "lead"; else nothing
  std::size_t layer = 0;
};
[[nodiscard]] Moved read_moved(const Json& json);

/// The state with what moved put onto the shop's stock and the saw's step. Where the shop names
/// none, onto what a rule or a thermometer can show.
[[nodiscard]] State snapped(State state, const Moved& moved, const Job& job);

/// The same within what can be drawn and cast, for a drag without a snap: no length past the room,
/// no core past the wall.
[[nodiscard]] State kept_within(State state, const Job& job);

/// Where each value may be moved, for the sliders. SI.
struct Reach {
  double least = 0;
  double most = 0;
  double step = 0;            ///< of the snap; 0 where `stock` says where it may stand
  std::vector<double> stock;  ///< rising
};
struct Reaches {
  Reach length;
  Reach core;
  Reach throat;
  Reach temperature;
  Reach lead;
};
[[nodiscard]] Reaches reaches_of(const Job& job);

}  // namespace grainwright::bench
