// SPDX-License-Identifier: GPL-3.0-or-later
//
// Somebody else's program may have set a locale with decimal commas and thousands apart; what the
// library reads and writes stays as it is.
#include <catch2/catch.hpp>
#include <locale>

#include "grainwright/quantity.hpp"
#include "job/job_text.hpp"

using namespace grainwright;

namespace {

class Commas : public std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

/// While it lives, the whole program speaks so.
class CommaLocale {
 public:
  CommaLocale() : before_(std::locale::global(std::locale(std::locale::classic(), new Commas))) {}
  ~CommaLocale() { std::locale::global(before_); }
  CommaLocale(const CommaLocale&) = delete;
  CommaLocale& operator=(const CommaLocale&) = delete;

 private:
  std::locale before_;
};

/// All that passes between a job's numbers and its text.
std::vector<std::string> said() {
  using namespace job_text;
  std::vector<std::string> lines = complaints_of(changed(sound, "count = 2", "count = 1250000"));
  for (const std::string& line : complaints_of(changed(sound, "\"7 1/2 in\"", "7.5"))) {
    lines.push_back(line);
  }
  const Job job = parse_job(sound, "job");
  lines.push_back(with_design(sound, job.grain, 0.0123456));
  lines.push_back(with_value(sound, "tube_wall", "1.25 mm"));
  lines.push_back(show(1234.5, Dimension::length, UnitSystem::si));
  lines.push_back(write_quantity(1234567.25, Dimension::pressure));
  return lines;
}

}  // namespace

TEST_CASE("Numbers are read and written alike in a locale with decimal commas") {
  const std::vector<std::string> before = said();
  const CommaLocale commas;
  CHECK(std::use_facet<std::numpunct<char>>(std::locale()).decimal_point() == ',');
  CHECK(said() == before);
}
