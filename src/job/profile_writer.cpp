// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "edit.hpp"
#include "grainwright/error.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright {
namespace {

/// Takes a key out of a table; between braces with the comma that parts it from its neighbour.
void remove(Edit& edit, const Node& table, const Entry& entry) {
  if (!table.in_braces) return edit.remove_lines(entry.begin.line, entry.value.end.line);
  const auto at = std::ranges::find(table.entries, entry.begin, &Entry::begin);
  if (at != table.entries.begin()) {
    edit.replace(std::prev(at)->value.end, entry.value.end, "");
  } else if (std::next(at) != table.entries.end()) {
    edit.replace(entry.begin, std::next(at)->begin, "");
  } else {
    edit.replace(entry.begin, entry.value.end, "");
  }
}

}  // namespace

std::string with_profile(std::string_view job_text, std::optional<double> lead) {
  const Node document = parse_document(job_text, "job");
  const Entry* wish = document.find("wish");
  if (wish == nullptr) throw InputError("wish", "no such table", "a job with a [wish] to change");
  Edit edit(job_text);
  set(edit, document, "wish", "profile", lead ? "\"front-loaded\"" : "\"flat\"");
  if (lead) {
    set(edit, document, "wish", "lead", fmt::format("{}", *lead));
  } else if (const Entry* old = wish->value.find("lead")) {
    remove(edit, wish->value, *old);
  }
  return edit.done();
}

}  // namespace grainwright
