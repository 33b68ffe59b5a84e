// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/firing.hpp"

#include <rapidcheck.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "support/checks.hpp"

using namespace grainwright;

namespace {

// Upper ends of the classes as the general references print them, N s.
struct Row {
  const char* letter;
  double from;
  double to;
};
const std::vector<Row> printed_table = {
    {"A", 1.26, 2.50},        {"B", 2.51, 5.00},         {"C", 5.01, 10.00},
    {"D", 10.01, 20.00},      {"E", 20.01, 40.00},       {"F", 40.01, 80.00},
    {"G", 80.01, 160.00},     {"H", 160.01, 320.00},     {"I", 320.01, 640.00},
    {"J", 640.01, 1280.00},   {"K", 1280.01, 2560.00},   {"L", 2560.01, 5120.00},
    {"M", 5120.01, 10240.00}, {"N", 10240.01, 20480.00}, {"O", 20480.01, 40960.00}};

const std::string table_source =
    "letter classes of model rocket motors, general encyclopaedia table (NFPA 1125 classes)";

}  // namespace

TEST_CASE("letter class: both ends of every printed class") {
  for (const Row& row : printed_table) {
    checks::expect("letter class at the lower end of " + std::string(row.letter), table_source,
                   row.letter, letter_class(row.from));
    checks::expect("letter class at the upper end of " + std::string(row.letter), table_source,
                   row.letter, letter_class(row.to));
  }
}

TEST_CASE("letter class: fractions of A") {
  std::string source = checks::from_memory("NFPA 1125 class table");
  checks::expect("letter class of 0.313 N s", source, "1/4A", letter_class(0.313));
  checks::expect("letter class of 0.625 N s", source, "1/4A", letter_class(0.625));
  checks::expect("letter class of 0.626 N s", source, "1/2A", letter_class(0.626));
  checks::expect("letter class of 1.25 N s", source, "1/2A", letter_class(1.25));
}

TEST_CASE(
    "letter class: a limit belongs to the class below it, to a hundredth of a newton second") {
  CHECK(letter_class(160.004) == "G");
  CHECK(letter_class(160.006) == "H");
  CHECK(letter_class(std::nextafter(2560.0, 1e9)) == "K");
  CHECK(letter_class(40960.01) == "P");
}

TEST_CASE("letter class: to the end of the alphabet and past it") {
  CHECK(letter_class(2.5 * std::pow(2.0, 25)) == "Z");
  CHECK(letter_class(2.5 * std::pow(2.0, 25) + 1) == "over Z");
}

TEST_CASE("letter class: twice the impulse is the next letter") {
  CHECK(rc::check("twice the impulse is the next letter", [] {
    int class_index = *rc::gen::inRange(0, 24);
    double share = *rc::gen::inRange(51, 101) / 100.0;
    double impulse = share * 2.5 * std::pow(2.0, class_index);
    RC_ASSERT(letter_class(impulse) == std::string(1, static_cast<char>('A' + class_index)));
    RC_ASSERT(letter_class(2 * impulse) == std::string(1, static_cast<char>('B' + class_index)));
  }));
}
