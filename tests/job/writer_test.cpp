// SPDX-License-Identifier: GPL-3.0-or-later
#include <rapidcheck.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "job_text.hpp"

namespace gw = grainwright;
using job_text::changed;
using job_text::sound;

namespace {

constexpr double inch = 0.0254;

gw::Grain one_segment(double outer, double spacer) {
  return {{{{60e-3, outer, 10e-3, {gw::Face::outer}}, 2}}, spacer};
}

std::string with_crlf(const std::string& text) {
  std::string result;
  for (char c : text) result += c == '\n' ? "\r\n" : std::string(1, c);
  return result;
}

/// Jobs that say alike things in unlike ways, all with a roomy casing or none.
std::vector<std::string> jobs() {
  const std::string roomy = changed(sound, "7 1/2 in", "30 m");
  const std::string head = roomy.substr(0, roomy.find("[nozzle]"));
  const std::string tail = roomy.substr(roomy.find("[shop]"));
  const std::string inline_segments =
      "segment = [ { length = \"2 in\", core = \"1/2 in\" }, # one\n { length = \"1 in\", core = "
      "'3 mm' "
      "} ] # é\n";
  return {roomy,
          roomy.substr(0, roomy.size() - 1),
          with_crlf(roomy),
          changed(roomy, "# Notes of", "# Größe, é, 火: notes of"),
          changed(roomy, "throat = \"3/8 in\"   # drilled\n", ""),
          changed(roomy, "[nozzle]", "[ nozzle ] # 'é'"),
          changed(roomy, "title = \"Heron\"", "title = 'é火' # é"),
          head + "[nozzle]\nthroat = '''\n1 in'''\nexit = \"30 in\"\n" + tail,
          inline_segments + head + "[nozzle]\nthroat = \"1/2 in\"\n" + tail,
          "nozzle = { exit = \"1 m\" } # é\n" + head + tail,
          "nozzle = { throat = \"1 in\" , exit = \"1 m\" }\n" + head + tail,
          "nozzle.exit = \"1 m\"\n" + head + tail,
          "segment = []\n" + head + tail,
          head + tail,
          changed(head, "[propellant]",
                  "[[segment]] # é\nlength = \"1 in\"\ncore = '1/2 in'\n\n[propellant]") +
              "[nozzle]\nthroat = \"1/2 in\"\n[[segment]]\ncore = '1/2 in'\ninhibited = [ # "
              "é\n'head',\n]\nlength = "
              "'1 in'\n# end\n" +
              tail,
          "[job]\ntitle = \"no casing\"\n[shop]\nspacer = \"1/16 in\""};
}

rc::Gen<double> lengths(double least, double most) {
  const auto whole = rc::gen::map(rc::gen::inRange(1, 1000), [](int n) { return n / 64.0 * inch; });
  const auto any = rc::gen::map(rc::gen::inRange(1, 1'000'000),
                                [=](int n) { return least + (most - least) * n / 1e6; });
  return rc::gen::suchThat(rc::gen::oneOf(whole, any),
                           [=](double x) { return x >= least && x <= most; });
}

gw::Faces some_faces(const std::vector<gw::Face>& choice) {
  const auto kept = *rc::gen::inRange<std::size_t>(0, choice.size());
  gw::Faces faces;
  for (std::size_t i = 0; i < choice.size(); ++i) {
    if (i != kept && *rc::gen::arbitrary<bool>()) faces.insert(choice[i]);
  }
  return faces;
}

gw::Grain some_grain(double outer, double spacer) {
  gw::Grain grain{{}, spacer};
  const int kinds = *rc::gen::inRange(1, 5);
  for (int i = 0; i < kinds; ++i) {
    gw::Layer layer;
    layer.segment.outer_diameter = outer;
    layer.segment.length = *lengths(1e-3, 0.4);
    const bool solid = i == 0 && *rc::gen::inRange(0, 4) == 0;
    layer.count = solid ? 1 : *rc::gen::inRange(1, 6);
    layer.segment.core_diameter = solid ? 0 : *lengths(1e-3, 0.9 * outer);
    layer.segment.inhibited =
        solid ? gw::Faces{gw::Face::head, gw::Face::outer}
              : some_faces({gw::Face::head, gw::Face::nozzle, gw::Face::core, gw::Face::outer});
    grain.layers.push_back(layer);
  }
  return grain;
}

/// Comments on lines of their own.
std::vector<std::string> remarks(const std::string& text) {
  std::vector<std::string> found;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with('#')) found.push_back(line);
  }
  return found;
}

}  // namespace

TEST_CASE("A design replaces segments and throat and nothing else") {
  const gw::Job job = gw::parse_job(sound, "");
  const double outer = job.casing->grain_outer_diameter();
  const gw::Grain grain{{{{2.25 * inch, outer, 0.5 * inch, {gw::Face::outer, gw::Face::head}}, 1},
                         {{61.9e-3, outer, 10e-3, {}}, 2}},
                        job.grain.spacer};
  std::string expected = changed(sound, "throat = \"3/8 in\"", "throat = \"11/32 in\"");
  const std::size_t begin = expected.find("[[segment]]");
  expected.replace(begin, expected.find("[shop]") - begin, R"([[segment]]
count = 1
length = "2 1/4 in"
core = "1/2 in"
inhibited = ["head", "outer"]

[[segment]]
count = 2
length = "61.9 mm"
core = "10 mm"
inhibited = []

# the last one

)");
  CHECK(gw::with_design(sound, grain, 11.0 / 32 * inch) == expected);
}

TEST_CASE("What is written is read back as it was, and all else stays") {
  const auto texts = jobs();
  CHECK(rc::check("with_design, then parse_job", [&] {
    const std::string text = *rc::gen::elementOf(texts);
    const gw::Job before = gw::parse_job(text, "");
    const double outer =
        before.casing ? before.casing->grain_outer_diameter() : *lengths(0.02, 0.2);
    const gw::Grain grain = some_grain(outer, before.grain.spacer);
    const double throat = *lengths(2e-3, 19e-3);
    const std::string after_text = gw::with_design(text, grain, throat);
    const gw::Job after = gw::parse_job(after_text, "");
    RC_ASSERT(after.grain == grain);
    RC_ASSERT(after.nozzle->throat_diameter == throat);
    RC_ASSERT(remarks(after_text) == remarks(text));
    if (before.nozzle) {
      RC_ASSERT(job_text::described(after, false) == job_text::described(before, false));
    }
    RC_ASSERT(gw::with_design(after_text, grain, throat) == after_text);
  }));
}

TEST_CASE("Every way to write a job can take a design") {
  for (const std::string& text : jobs()) {
    INFO(text);
    const gw::Job job = gw::parse_job(text, "");
    const double outer = job.casing ? job.casing->grain_outer_diameter() : 0.04;
    const gw::Grain grain = one_segment(outer, job.grain.spacer);
    const std::string after = gw::with_design(text, grain, 9e-3);
    CHECK(gw::parse_job(after, "").grain == grain);
  }
}

TEST_CASE("A straight hole stays straight") {
  const std::string text = changed(sound, "exit = \"3/4 in\"", "exit = \"3/8 in\"");
  const gw::Job job = gw::parse_job(text, "");
  const gw::Grain grain = one_segment(job.casing->grain_outer_diameter(), job.grain.spacer);
  const gw::Job after = gw::parse_job(gw::with_design(text, grain, 12e-3), "");
  CHECK(after.nozzle->exit_diameter == after.nozzle->throat_diameter);
}

TEST_CASE("A spacer of the design is written where the job has another or none") {
  const gw::Job job = gw::parse_job(sound, "");
  const gw::Grain grain = one_segment(job.casing->grain_outer_diameter(), 3e-3);
  CHECK(gw::parse_job(gw::with_design(sound, grain, 9e-3), "").grain == grain);
  const std::string bare = "[nozzle]\nthroat = \"1 in\"\n";
  CHECK(gw::parse_job(gw::with_design(bare, one_segment(0.04, 2e-3), 9e-3), "").grain.spacer ==
        2e-3);
}

TEST_CASE("A design that does not belong in the job is refused") {
  CHECK_THROWS_AS(gw::with_design(sound, one_segment(0.05, 0), 9e-3), gw::InputError);
  const double outer = gw::parse_job(sound, "").casing->grain_outer_diameter();
  CHECK_THROWS_AS(gw::with_design(sound, one_segment(outer, 0), 50e-3), gw::InputError);
  CHECK_THROWS_AS(gw::with_design(sound, gw::Grain{}, 9e-3), gw::InputError);
  CHECK_THROWS_AS(gw::with_design("[job]\ntitel = 1", one_segment(outer, 0), 9e-3), gw::InputError);
  gw::Grain longer = one_segment(outer, 0);
  longer.layers[0].count = 20;
  CHECK_THROWS_AS(gw::with_design(sound, longer, 9e-3), gw::InputError);
}
