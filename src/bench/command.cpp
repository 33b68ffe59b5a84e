// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <cstdio>
#include <optional>

#include "cli/arguments.hpp"
#include "cli/command.hpp"
#include "cli/interrupt.hpp"
#include "desk.hpp"
#include "doorway.hpp"
#include "grainwright/error.hpp"
#include "grainwright/utf8.hpp"
#include "server.hpp"

namespace grainwright::cli {
namespace {

/// Where no browser can be opened the address is printed all the same.
void open_in_browser(std::optional<bench::Doorway>& doorway, const std::string& address) {
  try {
    if (doorway.emplace(address).open()) return;
  } catch (const FileError&) {
  }
  std::fputs("no browser can be opened from here; open the address yourself\n", stderr);
}

Output run(const Arguments& arguments) {
  const int port = arguments.whole_number("port", 1, 65535, 0);
  // Before any other thread, so that none of them receives the signal.
  const Interrupt interrupt;
  bench::Desk desk(arguments.operand());
  std::optional<bench::Doorway> doorway;
  bench::serve(desk, {.port = port,
                      .stop = interrupt.token(),
                      .ready =
                          [&](const std::string& address) {
                            fmt::print("Bench: {}\n{}\nCtrl-C ends it.\n",
                                       plain_line(arguments.operand()), address);
                            std::fflush(stdout);
                            if (arguments.has("open")) open_in_browser(doorway, address);
                          },
                      .entered = [&] { doorway.reset(); }});
  return {"\nThe bench is closed.\n"};
}

}  // namespace

Command bench_command() {
  return {.name = "bench",
          .purpose = "what becomes of the curve when I move this? A page for the browser",
          .operand = "JOB",
          .options = {{"open", "", "open the page in the browser"},
                      {"port", "N", "of this machine to listen on; a free one if left out"}},
          .why_no_csv = "the bench is a page; use fire",
          .run = run};
}

}  // namespace grainwright::cli
