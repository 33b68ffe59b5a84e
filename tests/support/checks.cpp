// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/checks.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>

namespace checks {
namespace {

// Expected and got are printed short enough that compilers agree on them.
std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.7g", value == 0 ? 0.0 : value);
  return text;
}

// What is expected to be nothing leaves a residual whose digits are the compiler's, so the row says
// what it stayed within.
std::string outcome(double expected, double got, Within within) {
  const bool inside = std::abs(got) <= within.absolute;
  return expected == 0 && inside ? "0 within " + number(within.absolute) : number(got);
}

// One file a test case, begun anew by each run, so that rows never pile up and parallel runs of the
// test programs do not write into one another.
void record(const std::string& quantity, const std::string& source, const std::string& expected,
            const std::string& got) {
  const char* folder = std::getenv("GRAINWRIGHT_CHECKS");
  if (folder == nullptr) return;
  static std::set<std::string> begun;
  std::string test = Catch::getResultCapture().getCurrentTestName();
  std::string file;
  for (char c : test) file += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '-';
  std::filesystem::create_directories(folder);
  auto mode = begun.insert(file).second ? std::ios::trunc : std::ios::app;
  std::ofstream rows(std::filesystem::path(folder) / (file + ".tsv"), std::ios::out | mode);
  rows << quantity << '\t' << source << '\t' << expected << '\t' << got << '\t' << test << '\n';
}

}  // namespace

std::string from_memory(const std::string& work) {
  return "from memory: " + work;
}

void expect(const std::string& quantity, const std::string& source, double expected, double got,
            Within within) {
  record(quantity, source, number(expected), outcome(expected, got, within));
  INFO(quantity << " (" << source << "): expected " << number(expected) << ", got " << number(got)
                << ", off by " << got - expected);
  CHECK(std::abs(got - expected) <= within.absolute + within.relative * std::abs(expected));
}

void expect(const std::string& quantity, const std::string& source, const std::string& expected,
            const std::string& got) {
  record(quantity, source, expected, got);
  INFO(quantity << " (" << source << ")");
  CHECK(got == expected);
}

}  // namespace checks
