// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the server says to each errand, without the server.
#pragma once

#include <string>
#include <string_view>

#include "desk.hpp"
#include "state.hpp"

namespace grainwright::bench {

struct Reply {
  int status = 200;
  std::string type;
  std::string body;
  bool foreign = false;  ///< a page with a policy of its own, kept away from the bench
};

/// A file of the page itself, "" being the page; 404 for any other name.
[[nodiscard]] Reply page_part(std::string_view name);

/// "opening" and "stamp": what a window asks without a state.
[[nodiscard]] Reply told(std::string_view errand, Desk& desk);
/// "answer" and "save": what it asks with one.
[[nodiscard]] Reply done(std::string_view errand, const Json& request, Desk& desk);

/// The report of a build that is on the bench, as `report` would write it.
[[nodiscard]] Reply reported(const Json& request, Desk& desk);

/// A request's body. Throws InputError where it is no JSON, or nested deeper than any of ours.
[[nodiscard]] Json read_body(std::string_view body);
/// The sheet that the request works with. Throws InputError where it has been forgotten.
[[nodiscard]] std::shared_ptr<const Sheet> sheet_of(const Json& request, const Desk& desk);

/// A complaint as the page shows it.
[[nodiscard]] Reply refusal(int status, std::string_view words);
[[nodiscard]] std::string written(const Json& json);

}  // namespace grainwright::bench
