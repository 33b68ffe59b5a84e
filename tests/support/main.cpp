// SPDX-License-Identifier: GPL-3.0-or-later
#define CATCH_CONFIG_RUNNER
#include <catch2/catch.hpp>

// A name that matches no test, and a test that asserts nothing, are failures.
int main(int argc, char** argv) {
  Catch::Session session;
  session.configData().warnings = static_cast<Catch::WarnAbout::What>(
      Catch::WarnAbout::NoAssertions | Catch::WarnAbout::NoTests);
  const int refused = session.applyCommandLine(argc, argv);
  return refused != 0 ? refused : session.run();
}
