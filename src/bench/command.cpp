// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <spawn.h>

#include <array>
#include <cstdio>

#include "cli/arguments.hpp"
#include "cli/command.hpp"
#include "cli/interrupt.hpp"
#include "desk.hpp"
#include "server.hpp"

extern char** environ;

namespace grainwright::cli {
namespace {

/// Leaves the choice of the browser to the desktop; where there is none, the address is printed.
void open_in_browser(std::string address) {
  std::string program = "xdg-open";
  std::array<char*, 3> words = {program.data(), address.data(), nullptr};
  pid_t child = 0;
  if (posix_spawnp(&child, program.c_str(), nullptr, nullptr, words.data(), environ) != 0) {
    std::fputs("no browser can be opened from here; open the address yourself\n", stderr);
  }
}

Answer run(const Arguments& arguments) {
  const int port = arguments.whole_number("port", 1, 65535, 0);
  // Before any other thread, so that none of them receives the signal.
  const Interrupt interrupt;
  bench::Desk desk(arguments.operand());
  bench::serve(
      desk,
      {.port = port, .stop = interrupt.token(), .ready = [&arguments](const std::string& address) {
         fmt::print("Bench: {}\n{}\nCtrl-C ends it.\n", arguments.operand(), address);
         std::fflush(stdout);
         if (arguments.has("open")) open_in_browser(address);
       }});
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
