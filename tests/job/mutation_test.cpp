// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whatever is done to a job's text, reading it gives a job or complaints with places, never a
// crash.
#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include "job_text.hpp"

namespace gw = grainwright;

namespace {

const std::vector<std::string> pieces = {"\"",
                                         "'''",
                                         "[",
                                         "]",
                                         "[[segment]]\n",
                                         "{",
                                         "}",
                                         "=",
                                         ".",
                                         "\n",
                                         "#",
                                         "\xff",
                                         "\xc3",
                                         "é",
                                         "0",
                                         "-1",
                                         "1e999",
                                         "inf",
                                         "nan",
                                         "true",
                                         "\"0 mm\"",
                                         "\"-3 in\"",
                                         "\"1e300 in\"",
                                         "\"nan in\"",
                                         "\"1/0 in\"",
                                         "99999999999",
                                         "1979-05-27",
                                         "[[0, 1], [1, 1]]",
                                         "[job]\n",
                                         "segment = 1\n",
                                         "\r\n",
                                         "\\u0000",
                                         "core = 0\n"};

std::string mutated(std::string text) {
  const int changes = *rc::gen::inRange(1, 6);
  for (int i = 0; i < changes; ++i) {
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size() + 1);
    const auto length = *rc::gen::inRange<std::size_t>(0, 30);
    switch (*rc::gen::inRange(0, 4)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, *rc::gen::elementOf(pieces));
        break;
      case 2:
        text.insert(at, text.substr(*rc::gen::inRange<std::size_t>(0, text.size() + 1), length));
        break;
      default:
        if (at < text.size()) text[at] = *rc::gen::arbitrary<char>();
    }
  }
  return text;
}

}  // namespace

TEST_CASE("A damaged job is read or complained of") {
  const std::vector<std::string> texts = {job_text::sound, job_text::example_of_page(0),
                                          job_text::example_of_page(1)};
  CHECK(rc::check("parse_job on damaged text", [&] {
    const std::string text = mutated(*rc::gen::elementOf(texts));
    try {
      const gw::Job job = gw::parse_job(text, "job.toml");
      if (!job.grain.layers.empty()) RC_ASSERT(gw::complaints(job.grain).empty());
    } catch (const gw::InputError& error) {
      RC_ASSERT_FALSE(error.complaints().empty());
      for (const gw::Complaint& complaint : error.complaints()) {
        RC_ASSERT(complaint.place.file == "job.toml");
        RC_ASSERT((complaint.place.line > 0 || text.find('\0') != std::string::npos));
      }
    }
  }));
}

TEST_CASE("A damaged job takes a design or refuses it") {
  CHECK(rc::check("with_design on damaged text", [] {
    const std::string text = mutated(job_text::sound);
    try {
      const gw::Job job = gw::parse_job(text, "");
      RC_PRE(job.casing.has_value());
      const gw::Grain grain{{{{20e-3, job.casing->grain_outer_diameter(), 5e-3}, 1}},
                            job.grain.spacer};
      RC_ASSERT(gw::parse_job(gw::with_design(text, grain, 6e-3), "").grain == grain);
    } catch (const gw::InputError&) {
      RC_SUCCEED("refused");
    }
  }));
}
