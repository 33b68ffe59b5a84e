// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "numbers.hpp"

namespace grainwright::cli {
namespace {

std::string more_of(const std::vector<Reason>& reasons) {
  if (reasons.size() < 2) return "";
  const auto others = reasons.size() - 1;
  return others == 1 ? "; and one more" : fmt::format("; and {} more", others);
}

Json json_of(const std::vector<Reason>& reasons) {
  Json list = Json::array();
  for (const Reason& reason : reasons) {
    list.push_back({{"key", reason.key},
                    {"words", reason.words},
                    {"value", reason.value ? Json(*reason.value) : Json()},
                    {"limit", reason.limit ? Json(*reason.limit) : Json()}});
  }
  return list;
}

/// What a yes rests on.
std::string grounds(const Assessment& found, UnitSystem units) {
  std::string words = fmt::format("the pressure peaks at {}{}",
                                  show(found.peak_pressure.value, Dimension::pressure, units),
                                  units == UnitSystem::us ? "a" : " abs");
  for (const Check& check : found.checks) {
    if (check.limit.row->key != "limits.pressure") continue;
    words += fmt::format(", {} of the ceiling", percent(check.value / check.limit.value));
  }
  if (found.margins) {
    words += fmt::format("; the weakest part, the {}, holds {:.2f} times its load",
                         found.margins->weakest().part, found.margins->ratio());
  }
  const auto over = std::ranges::find(found.verdict.assumed, "limits.confidence", &Reason::key);
  if (over != found.verdict.assumed.end()) {
    words += fmt::format("; but about {:.0f} % of motors built like it would pass the ceiling",
                         100 * *over->value);
  }
  return words;
}

void tell_list(Page& page, std::string_view heading, std::span<const Reason> reasons,
               bool with_key) {
  if (reasons.empty()) return;
  page.heading(heading);
  for (const Reason& reason : reasons) {
    page.item("- ", with_key ? fmt::format("{} ({})", reason.words, reason.key) : reason.words);
  }
}

}  // namespace

std::string first_sentence(const Verdict& verdict) {
  switch (verdict.answer()) {
    case Answer::no:
      return fmt::format("NO: {}: {}{}",
                         verdict.dangerous() ? "do not fire this motor as drawn"
                                             : "this motor is not what the job asks for",
                         verdict.broken.front().words, more_of(verdict.broken));
    case Answer::unknown:
      return fmt::format(
          "UNKNOWN: nothing is broken, but something that counts is not judged: {}{}",
          verdict.not_judged.front().words, more_of(verdict.not_judged));
    case Answer::yes:
      break;
  }
  return "YES, by this prediction: it keeps all that the job asks";
}

std::string first_sentence(const Assessment& found, UnitSystem units) {
  const std::string sentence = first_sentence(found.verdict);
  return found.verdict.answer() == Answer::yes
             ? fmt::format("{}; {}", sentence, grounds(found, units))
             : sentence;
}

void tell_reasons(Page& page, const Verdict& verdict) {
  const auto after_first = [](const std::vector<Reason>& reasons) {
    return std::span(reasons).subspan(std::min<std::size_t>(1, reasons.size()));
  };
  const bool no = verdict.answer() == Answer::no;
  tell_list(page, "Broken as well", after_first(verdict.broken), true);
  tell_list(page, no ? "Not judged" : "Not judged as well",
            no ? std::span(verdict.not_judged) : after_first(verdict.not_judged), false);
  tell_list(page, "Assumed", verdict.assumed, true);
}

void tell_verdict(Page& page, const Assessment& found, UnitSystem units) {
  page.heading(first_sentence(found, units) + ".");
  tell_reasons(page, found.verdict);
}

Json json_of(const Verdict& verdict) {
  return {{"answer", name_of(verdict.answer())},
          {"broken", json_of(verdict.broken)},
          {"not_judged", json_of(verdict.not_judged)},
          {"assumed", json_of(verdict.assumed)}};
}

Exit exit_of(const Verdict& verdict) {
  return verdict.answer() == Answer::no ? Exit::no : Exit::fine;
}

std::string next_step(const Job& job, const Verdict& verdict, const std::string& file,
                      const std::string& when_yes) {
  const auto weak = std::ranges::find(verdict.broken, "limits.factor", &Reason::key);
  switch (verdict.answer()) {
    case Answer::yes:
      return when_yes;
    case Answer::unknown:
      return fmt::format("settle {} in {}, then grainwright fire {}",
                         verdict.not_judged.front().key, file, file);
    case Answer::no:
      break;
  }
  if (weak != verdict.broken.end()) return "grainwright margins " + file;
  if (job.shop && job.wish) return "grainwright design " + file;
  return fmt::format("change the motor in {}, then grainwright fire {}", file, file);
}

}  // namespace grainwright::cli
