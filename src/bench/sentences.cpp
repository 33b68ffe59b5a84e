// SPDX-License-Identifier: GPL-3.0-or-later
#include "sentences.hpp"

#include <fmt/format.h>

#include <cctype>
#include <cmath>
#include <numbers>

#include "cli/numbers.hpp"

namespace grainwright::bench {
namespace {

using cli::percent;

/// Lengths that add up to the room exactly on paper may not do so in binary.
constexpr double rounding = 1e-9;

Mood mood_of(const Check& check) {
  return check.broken() ? Mood::broken : check.near() ? Mood::near : Mood::kept;
}

std::string capital(std::string text) {
  if (!text.empty()) {
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  }
  return text;
}

std::string label_of(const LimitRow& row) {
  const bool headline = row.value == &LimitedFigures::peak_pressure;
  return std::string(row.row().label) + (headline ? " at the head end" : "");
}

/// "22 % under its ceiling of 4 MPa", or "10 % OVER its ceiling of 4 MPa".
std::string distance(const Check& check, UnitSystem units) {
  const auto& [limit, value] = check;
  const std::string end = fmt::format("its {} of {}", limit.ceiling ? "ceiling" : "floor",
                                      show(limit.value, limit.row->row().dimension, units));
  const double share = std::abs(value / limit.value - 1);
  if (share < 5e-4) return "right at " + end;
  const bool under = value < limit.value;
  const std::string_view side =
      check.broken() ? (under ? "UNDER" : "OVER") : (under ? "under" : "over");
  return fmt::format("{} {} {}", percent(share), side, end);
}

}  // namespace

std::string_view name_of(Mood mood) {
  switch (mood) {
    case Mood::kept:
      return "kept";
    case Mood::near:
      return "near";
    case Mood::broken:
      return "broken";
  }
  return "";
}

Sentence said(const Check& check, UnitSystem units) {
  const Mood mood = mood_of(check);
  const std::string facts = fmt::format("{} is {}, {}", capital(label_of(*check.limit.row)),
                                        show(check.value, check.limit.row->row().dimension, units),
                                        distance(check, units));
  return {std::string(check.limit.row->key), mood, facts + (mood == Mood::broken ? "!" : ".")};
}

std::vector<Sentence> room_sentences(const Job& job) {
  if (!job.casing) return {};
  const double stack = job.grain.stack_length();
  const double room = job.casing->grain_room;
  const auto length = [&job](double metres) { return show_length(metres, job.units); };
  const std::string facts =
      fmt::format("The stack is {} long in {} of room", length(stack), length(room));
  if (stack > room * (1 + rounding)) {
    return {{"casing.grain_room", Mood::broken,
             fmt::format("{}: {} TOO LONG!", facts, length(stack - room))}};
  }
  const double left = room - stack;
  const std::string rest =
      left < rounding ? "nothing is left over" : length(left) + " is left over";
  return {{"casing.grain_room", Mood::kept, fmt::format("{}; {}.", facts, rest)}};
}

std::vector<Sentence> loading_sentences(const Job& job) {
  if (!job.casing) return {};
  const double outer = job.casing->grain_outer_diameter();
  const double room = std::numbers::pi / 4 * outer * outer * job.casing->grain_room;
  const double loading = job.grain.propellant_volume() / room;
  const double asked = job.wish ? job.wish->loading : 0;
  if (asked <= 0) {
    return {{"wish.loading", Mood::kept,
             fmt::format("Propellant fills {} of the room.", percent(loading))}};
  }
  const bool broken = loading < asked;
  return {
      {"wish.loading", broken ? Mood::broken : Mood::kept,
       fmt::format("Propellant fills {} of the room, {} the {} that is asked{}", percent(loading),
                   broken ? "LESS than" : "at least", percent(asked), broken ? "!" : ".")}};
}

std::string fit_words(double misfit, const Asked& asked) {
  const std::string shape = asked.shape == Asked::Shape::front_loaded
                                ? fmt::format("front-loaded with a lead of {:.3g}", asked.lead)
                            : asked.shape == Asked::Shape::flat ? std::string("flat")
                                                                : std::string("the job's own");
  return fmt::format(
      "Misfit {:.3f} from the asked profile ({}): thrust strays from it by {} of "
      "its mean.",
      misfit, shape, percent(misfit));
}

std::vector<Sentence> said(const Margins& margins, UnitSystem units) {
  std::vector<Sentence> sentences;
  for (const PartMargin& part : margins.parts) {
    const ModeMargin& mode = part.weakest();
    const bool broken = mode.ratio < margins.factor;
    const bool near = !broken && mode.ratio < margins.factor * (1 + near_limit);
    sentences.push_back(
        {part.part,
         broken ? Mood::broken
         : near ? Mood::near
                : Mood::kept,
         fmt::format(
             "The {} holds {:.2f} times its load ({}, {} after ignition), {} the asked {}{}",
             part.part, mode.ratio, mode.mode, show(mode.at, Dimension::time, units, 3),
             broken ? "UNDER" : "over", show(margins.factor, Dimension::ratio, units),
             broken ? "!" : ".")});
  }
  return sentences;
}

Json json_of(const std::vector<Sentence>& sentences) {
  Json list = Json::array();
  for (const Sentence& sentence : sentences) {
    list.push_back(
        {{"key", sentence.key}, {"mood", name_of(sentence.mood)}, {"text", sentence.text}});
  }
  return list;
}

}  // namespace grainwright::bench
