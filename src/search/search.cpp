// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/search/search.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <iterator>
#include <utility>

#include "confidence.hpp"
#include "evaluator.hpp"
#include "exhaustive.hpp"
#include "free_search.hpp"
#include "grainwright/quantity.hpp"
#include "shortlist.hpp"
#include "stock.hpp"

namespace grainwright {
namespace {

// Where lengths are free, the sweep that gives the finer search its starts uses this many steps.
constexpr int steps_of_a_free_room = 96;

std::string name_of(Virtue virtue, bool for_the_rail) {
  switch (virtue) {
    case Virtue::best_fit:
      return for_the_rail ? "most impulse" : "best fit";
    case Virtue::most_impulse:
      return "most impulse";
    case Virtue::fewest_pours:
      return "fewest pours";
    case Virtue::all_alike:
      return "all segments alike";
    case Virtue::lowest_pressure:
      return "lowest peak pressure";
  }
  return "";
}

// What a design costs against the best fit, in words; differences under one percent are left out.
std::string price_of(const Design& design, const Design& best, bool for_the_rail) {
  constexpr double worth_a_word = 0.01;
  std::vector<std::string> costs;
  if (!for_the_rail && design.misfit > best.misfit * (1 + worth_a_word)) {
    costs.push_back(fmt::format("fit {:.4f} instead of {:.4f}", design.misfit, best.misfit));
  }
  const auto change = [&](double mine, double theirs, const char* more, const char* less) {
    const double percent = 100 * (mine / theirs - 1);
    if (std::abs(percent) < 100 * worth_a_word) return;
    const char* words = percent > 0 ? more : less;
    if (*words != '\0') costs.push_back(fmt::format("{:.0f} % {}", std::abs(percent), words));
  };
  change(design.summary.total_impulse, best.summary.total_impulse, "", "less impulse");
  change(design.summary.peak_pressure, best.summary.peak_pressure, "more peak pressure", "");
  const int pours = design.grain.segment_count() - best.grain.segment_count();
  if (pours > 0) {
    costs.push_back(std::to_string(pours) + (pours == 1 ? " more pour" : " more pours"));
  }
  std::string text;
  for (const std::string& cost : costs) text += (text.empty() ? "" : ", ") + cost;
  return text.empty() ? "nothing worth a word" : text;
}

Design design_of(const SearchTask& task, std::span<const ShopThroat> throats, Virtue virtue,
                 const Found& found) {
  Design design;
  design.grain = grain_of(found.groups, task.shop.spacer);
  const ShopThroat& throat = throats[found.throat];
  design.throat_diameter = throat.diameter;
  design.misfit = found.misfit;
  const Burnback burnback(design.grain);
  design.summary = steady_summary(burnback, throat.chamber);
  const double section = std::acos(-1.0) / 4 * task.outer_diameter * task.outer_diameter;
  design.loading = burnback.propellant_volume(0) / (section * task.grain_room);
  if (task.airframe) {
    design.flight = fly_steady(motor_of(task, design), *task.airframe);
  }
  design.strength = name_of(virtue, task.wish.for_the_rail);
  return design;
}

std::vector<Design> designs_of(const SearchTask& task, std::span<const ShopThroat> throats,
                               const Shortlist& shortlist) {
  std::vector<Design> designs;
  for (const auto& [virtue, found] : shortlist.draw_up()) {
    designs.push_back(design_of(task, throats, virtue, found));
    if (designs.size() > 1)
      designs.back().gives_up = price_of(designs.back(), designs.front(), task.wish.for_the_rail);
  }
  return designs;
}

void require(std::vector<Complaint>& found, bool holds, const char* key, double given,
             const char* allowed) {
  if (!holds) found.push_back({key, fmt::format("{}", given), allowed});
}

void find_shop_complaints(const SearchTask& task, std::vector<Complaint>& found) {
  const Shop& shop = task.shop;
  if (rods_of(shop) == 0) found.push_back({"shop.mandrels", "none", "at least one core rod"});
  for (double mandrel : shop.mandrels) {
    require(found, mandrel > 0 && std::isfinite(mandrel), "shop.mandrels", mandrel,
            "diameters above zero");
  }
  for (double mandrel : shop.mandrels) {
    if (!std::isfinite(mandrel) || mandrel < task.outer_diameter) continue;
    found.push_back(
        {"shop.mandrels", show_length(mandrel, UnitSystem::si),
         "rods narrower than the propellant, " + show_length(task.outer_diameter, UnitSystem::si)});
  }
  if (shop.throats.empty()) found.push_back({"shop.throats", "none", "at least one throat"});
  for (double throat : shop.throats) {
    require(found, throat > 0 && std::isfinite(throat), "shop.throats", throat,
            "diameters above zero");
  }
  require(found, shop.most_segments >= 1 && shop.most_segments <= 24, "shop.most_segments",
          shop.most_segments, "from 1 to 24");
  require(found, shop.most_kinds >= 1, "shop.most_kinds", shop.most_kinds, "1 or more");
  require(found, shop.length_step >= 0 && std::isfinite(shop.length_step), "shop.length_step",
          shop.length_step, "above zero; leave out where lengths are free");
  require(found, shop.spacer >= 0 && std::isfinite(shop.spacer), "shop.spacer", shop.spacer,
          "zero or more");
  require(found, shop.shortest_segment >= 0, "shop.shortest_segment", shop.shortest_segment,
          "zero or more");
  require(found, shop.longest_segment >= shop.shortest_segment, "shop.longest_segment",
          shop.longest_segment, "at least the shortest segment");
  if (shop.bare_ends.empty()) found.push_back({"shop.bare_ends", "none", "any of 0, 1 and 2"});
  for (int ends : shop.bare_ends) {
    require(found, ends >= 0 && ends <= 2, "shop.bare_ends", ends, "any of 0, 1 and 2");
  }
}

void find_flight_complaints(const SearchTask& task, std::vector<Complaint>& found) {
  const Wish& wish = task.wish;
  if (wish.for_the_rail && !std::isfinite(wish.rail_speed.least)) {
    found.push_back({"wish.rail_speed", "none", "a least speed: the profile is for the rail"});
  }
  if (wish.for_the_rail && std::isinf(task.limits.pressure)) {
    found.push_back({"limits.pressure", "none", "a ceiling: the profile is for the rail"});
  }
  if (wish.asks_flight() && !task.airframe) {
    found.push_back({"airframe", "missing", "an [airframe] table: the wish asks for its flight"});
  }
  if (!task.airframe) return;
  for (Complaint complaint : complaints(*task.airframe)) {
    complaint.key = "airframe." + complaint.key;
    found.push_back(std::move(complaint));
  }
}

// A shop in its simplest form: each mandrel, throat and number of bare ends once, in rising order,
// so that the order in the file decides nothing; each odd core once.
SearchTask tidied(SearchTask task) {
  const auto tidy = [](auto& values) {
    std::ranges::sort(values);
    values.erase(std::unique(values.begin(), values.end()), values.end());
  };
  tidy(task.shop.mandrels);
  tidy(task.shop.throats);
  tidy(task.shop.bare_ends);
  std::vector<Core> cores;
  for (Core& core : task.shop.cores) {
    if (std::ranges::find(cores, core) == cores.end()) cores.push_back(std::move(core));
  }
  task.shop.cores = std::move(cores);
  return task;
}

SearchResult search_once(const SearchTask& given, const SearchOptions& options) {
  const auto start = std::chrono::steady_clock::now();
  const StockedTask task(given);
  const std::vector<ShopThroat> throats = throats_of(task);
  const bool free_lengths = task.shop.length_step == 0;
  const double step = free_lengths ? task.grain_room / steps_of_a_free_room : task.shop.length_step;
  const int swept_kinds = std::min(task.shop.most_kinds, 2);

  SearchResult result;
  Sweep swept = sweep(task, throats, Lattice(task, step, task.grain_room), swept_kinds, options);
  result.proven = !free_lengths && task.shop.most_kinds <= 2 && !swept.stopped;
  if ((free_lengths || task.shop.most_kinds > 2) && !swept.stopped) {
    refine(task, throats, step, options, swept);
  }
  result.builds = swept.builds;
  result.stopped = swept.stopped;
  result.designs = designs_of(task, throats, swept.shortlist);
  if (result.designs.empty() && !result.stopped) {
    result.reliefs = find_reliefs(task, throats, step, swept_kinds, options);
  }
  result.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return result;
}

}  // namespace

std::vector<Complaint> complaints(const SearchTask& task) {
  std::vector<Complaint> found = complaints(task.propellant);
  const auto positive = [](double value) { return std::isfinite(value) && value > 0; };
  require(found, positive(task.outer_diameter), "casing", task.outer_diameter,
          "a pipe wide enough for its casting tube");
  require(found, positive(task.grain_room), "casing.grain_room", task.grain_room,
          "a length above zero");
  require(found, task.wish.loading >= 0 && task.wish.loading <= 1, "wish.loading",
          task.wish.loading, "from 0 to 1");
  require(found, task.limits.pressure > task.limits.pressure_floor, "limits.pressure",
          task.limits.pressure, "above the pressure floor");
  find_shop_complaints(task, found);
  find_flight_complaints(task, found);
  if (positive(task.outer_diameter)) {
    std::ranges::move(stock_complaints(task), std::back_inserter(found));
  }
  if (found.empty() && throats_of(task).empty()) {
    found.push_back(
        {"shop.throats",
         show_length(std::ranges::min(task.shop.throats), UnitSystem::si) + " and wider",
         "at least one throat no wider than the nozzle's exit"});
  }
  return found;
}

SearchResult search(const SearchTask& given, const SearchOptions& options) {
  if (auto found = complaints(given); !found.empty()) throw InputError(std::move(found));
  const SearchTask task = tidied(given);
  if (!asks_confidence(task)) return search_once(task, options);
  return search_with_confidence(
      task, [&](const SearchTask& lowered) { return search_once(lowered, options); });
}

Motor motor_of(const SearchTask& task, const Design& design) {
  return {design.grain, task.propellant, task.nozzle.drilled_to(design.throat_diameter), task.day};
}

double misfit(const PreparedMotor& motor, const Profile& profile) {
  ProfileFit fit(profile);
  const Burnback& burnback = motor.burnback();
  const SteadyChamber& chamber = motor.chamber();
  return fit.misfit(
      fit.sums(even_rate(burnback.stretches(), chamber.web_factor(), burnback.burnout()), chamber));
}

}  // namespace grainwright
