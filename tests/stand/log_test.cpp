// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/log.hpp"

#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <fstream>

#include "grainwright/error.hpp"

namespace gw = grainwright;
using gw::RowFault;

namespace {

gw::Log parsed(const std::string& text, const gw::LogFormat& format = {}) {
  return gw::parse_log(text, "log.csv", format);
}

/// What is asked for, by the field of LogFormat.
std::string asked(const std::string& text, const gw::LogFormat& format = {}) {
  try {
    static_cast<void>(parsed(text, format));
  } catch (const gw::InputError& error) {
    return error.complaints().front().key;
  }
  return "nothing";
}

}  // namespace

TEST_CASE("A header names columns and units, whatever parts them") {
  for (const std::string text :
       {"time (s),thrust (lbf)\n0,1\n0.5,2\n", "time_s;thrust_lbf\n0;1\n0,5;2\n",
        "thrust [lbf]\ttime [s]\n1\t0\n2\t0.5\n", "# t s | force lbf\n0 | 1\n0.5 | 2\n",
        "Time,ms  Load,lbf\n   0     1\n 500   2\n",
        "\xEF\xBB\xBFtime_s,force_lbf\r\n0,1\r\n0.5,2\r\n"}) {
    INFO(text);
    const gw::Log log = parsed(text);
    CHECK(log.time == std::vector{0.0, 0.5});
    REQUIRE(log.force.size() == 2);
    CHECK(log.force[1] == Approx(2 * 4.4482216152605).epsilon(1e-15));
    CHECK(log.left_out() == 0);
  }
}

TEST_CASE("Without a header, units are said and columns found where they are certain") {
  const gw::Log log = parsed("0 30\n10 20\n20 31\n", {.time_unit = "ms", .force_unit = "kg"});
  CHECK(log.time == std::vector{0.0, 0.01, 0.02});
  CHECK(log.force[1] == Approx(20 * 9.80665).epsilon(1e-15));
}

TEST_CASE("What is not certain is asked for, by its field") {
  CHECK(asked("1,2\n2,1\n3,2\n") == "time_unit");
  CHECK(asked("1,2\n2,1\n3,2\n", {.time_unit = "s"}) == "force_unit");
  CHECK(asked("1,2\n2,3\n3,4\n") == "time_column");
  CHECK(asked("1,2,3\n2,1,3\n3,2,3\n", {.time_unit = "s", .force_unit = "N"}) == "force_column");
  CHECK(asked("5\n6\n5\n", {.force_unit = "N"}) == "sample_rate");
  CHECK(asked("time,raw\n1,2\n2,1\n", {.time_unit = "s"}) == "force_per_count");
  CHECK(asked("time_s,force_N\n1,2\n", {.force_column = "thrust"}) == "force_column");
  CHECK(asked("time_s,force_N\n1,2\n", {.force_unit = "furlong"}) == "force_unit");
  CHECK(asked("no numbers here\nnone at all\n").empty());
  CHECK(asked("").empty());
}

TEST_CASE("Time counts samples where a rate is given") {
  const gw::LogFormat counts{.sample_rate = 80.0, .force_unit = "counts", .force_per_count = 0.5};
  CHECK(parsed("100\n102\n104\n", counts).time == std::vector{0.0, 1 / 80.0, 2 / 80.0});
  CHECK(parsed("sample,raw\n0,100\n1,102\n5,104\n", counts).time ==
        std::vector{0.0, 1 / 80.0, 5 / 80.0});
  CHECK(parsed("100\n102\n", counts).force == std::vector{50.0, 51.0});
}

TEST_CASE("A bad row of a log without times leaves its place empty") {
  const gw::Log log = parsed("1\nx\n3\n", {.sample_rate = 10.0, .force_unit = "N"});
  CHECK(log.time == std::vector{0.0, 0.2});
}

TEST_CASE("Pressure is taken where it is named") {
  const gw::Log log = parsed("time_s,force_N,pressure_bar\n0,1,2\n1,2,3\n");
  CHECK(log.pressure == std::vector{2e5, 3e5});
  CHECK(
      parsed("time_s,force_N,pressure_bar\n0,1,2\n", {.pressure_column = "none"}).pressure.empty());
}

TEST_CASE("Every bad row is named and counted, none silently dropped") {
  const gw::Log log = parsed(
      "time_s,force_N\n"  // 1
      "0,1\n"             // 2
      "1,x\n"             // 3 no number
      "\n"                // 4 empty
      "2\n"               // 5 no value
      "3,nan\n"           // 6 not finite
      "# knocked\n"       // 7 remark
      "4,2\n"             // 8
      "4,3\n"             // 9 repeated
      "3,3\n"             // 10 backward
      "5,3\n"             // 11
      "900,3\n"           // 12 ahead
      "6,4\n"             // 13
      "7,1.2.3\n"         // 14 no number
      "8,\n"              // 15 no value
      "9,5");             // 16, without an end
  CHECK(log.time == std::vector{0.0, 4.0, 5.0, 6.0, 9.0});
  CHECK(log.line == std::vector<std::uint32_t>{2, 8, 11, 13, 16});
  CHECK(log.rows == 15);
  CHECK(log.of(RowFault::no_number).lines == std::vector<std::size_t>{3, 14});
  CHECK(log.of(RowFault::empty).lines == std::vector<std::size_t>{4});
  CHECK(log.of(RowFault::no_value).lines == std::vector<std::size_t>{5, 15});
  CHECK(log.of(RowFault::not_finite).lines == std::vector<std::size_t>{6});
  CHECK(log.of(RowFault::comment).lines == std::vector<std::size_t>{7});
  CHECK(log.of(RowFault::repeated).lines == std::vector<std::size_t>{9});
  CHECK(log.of(RowFault::backward).lines == std::vector<std::size_t>{10});
  CHECK(log.of(RowFault::ahead).lines == std::vector<std::size_t>{12});
}

TEST_CASE("Only the first lines of a fault are named, all are counted") {
  std::string text = "time_s,force_N\n0,1\n";
  for (int i = 0; i < 100; ++i) text += "?,?\n";
  const gw::Log log = parsed(text + "1,1\n");
  CHECK(log.of(RowFault::no_number).count == 100);
  CHECK(log.of(RowFault::no_number).lines == std::vector<std::size_t>{3, 4, 5, 6, 7});
}

TEST_CASE("An endless line is one bad row, and what follows is read") {
  std::string text = "time_s,force_N\n0,1\n";
  text.append(5'000'000, '7');
  text += "\n1,2\n";
  const gw::Log log = parsed(text);
  CHECK(log.time == std::vector{0.0, 1.0});
  CHECK(log.of(RowFault::overlong).lines == std::vector<std::size_t>{3});
}

TEST_CASE("Quoted heads and cells, decimal commas and thousands are read") {
  const gw::Log quoted = parsed("\"Time, s\",\"Thrust, N\"\n\"0\",\"999.5\"\n\"1\",\"1,234.5\"\n");
  CHECK(quoted.time == std::vector{0.0, 1.0});
  CHECK(quoted.force == std::vector{999.5, 1234.5});
  const gw::Log comma = parsed("Zeit time (ms);Kraft force (kg)\n0;0,5\n10;1.234,5\n20;12,25\n");
  CHECK(comma.time == std::vector{0.0, 0.01, 0.02});
  CHECK(comma.force[1] == Approx(1234.5 * 9.80665).epsilon(1e-15));
  // A cell of the header over two lines.
  const gw::Log broken = parsed("\"Time\n(s)\",\"Force\n(N)\"\n0,1\n1,2\n");
  CHECK(broken.force == std::vector{1.0, 2.0});
  // Three decimals throughout are no thousands.
  CHECK(parsed("time_s;force_N\n1.000;2.500\n2.000;3.500\n").time == std::vector{1.0, 2.0});
  CHECK(parsed("force (N)\n5\n6\n", {.sample_rate = 10.0}).time == std::vector{0.0, 0.1});
}

TEST_CASE("Text in UTF-16 with a mark is read, either byte first") {
  const std::string text = "time_s,force_N\n0,1\n1,2\n";
  for (const bool high_first : {false, true}) {
    std::string wide = high_first ? "\xFE\xFF" : "\xFF\xFE";
    for (const char c : text) {
      wide += high_first ? '\0' : c;
      wide += high_first ? c : '\0';
    }
    const gw::Log log = parsed(wide);
    CHECK(log.time == std::vector{0.0, 1.0});
    CHECK(log.force == std::vector{1.0, 2.0});
  }
}

TEST_CASE("A fault names line and column") {
  const gw::Log log = parsed("time_s,force_N\n0,1\n1,x\n\n2,3\n");
  const gw::FaultCount& fault = log.of(RowFault::no_number);
  CHECK(fault.lines == std::vector<std::size_t>{3});
  CHECK(fault.columns == std::vector<std::size_t>{2});
  CHECK(log.of(RowFault::empty).columns == std::vector<std::size_t>{0});
}

TEST_CASE("A folder and a missing file are refused") {
  CHECK_THROWS_AS(gw::read_log("."), gw::FileError);
  CHECK_THROWS_AS(gw::read_log("nowhere.csv"), gw::FileError);
}

TEST_CASE("A file is read as its text is, across blocks") {
  std::string text = "time_s,force_N\n";
  for (int i = 0; i < 200'000; ++i) {
    text += std::to_string(i * 1e-3) + ',' + std::to_string(i % 977) + '\n';
  }
  REQUIRE(text.size() > 2U << 20U);
  const auto path = std::filesystem::temp_directory_path() / "grainwright-log-test.csv";
  std::ofstream(path, std::ios::binary) << text;
  const gw::Log from_file = gw::read_log(path);
  std::filesystem::remove(path);
  CHECK(from_file.time.size() == 200'000);
  CHECK(from_file.force == parsed(text).force);
  CHECK(from_file.line.back() == 200'001);
}

TEST_CASE("Whatever the bytes, a log is read or refused, and every row accounted for") {
  const std::string alphabet = "0123456789.,;-+eE \t\nx#\"\r|nanif";
  CHECK(rc::check("random text", [&] {
    const auto picks = *rc::gen::container<std::vector<std::size_t>>(
        rc::gen::inRange<std::size_t>(0, alphabet.size()));
    std::string text = *rc::gen::element<std::string>("", "time_s,force_N\n", "0,1\n1,2\n");
    for (const std::size_t pick : picks) text += alphabet[pick];
    try {
      const gw::Log log = parsed(text, {.time_unit = "s", .force_unit = "N"});
      std::size_t faulty = 0;
      for (const gw::FaultCount& fault : log.faults) faulty += fault.count;
      RC_ASSERT(log.time.size() + faulty == log.rows);
      RC_ASSERT(log.force.size() == log.time.size());
      for (std::size_t i = 1; i < log.time.size(); ++i) RC_ASSERT(log.time[i] > log.time[i - 1]);
    } catch (const gw::InputError&) {
      RC_SUCCEED("refused");
    }
  }));
  CHECK(rc::check("random bytes", [](const std::string& text) {
    try {
      const gw::Log log = parsed("time_s,force_N\n0,1\n" + text, {});
      RC_ASSERT(log.rows >= log.time.size());
    } catch (const gw::InputError&) {
      RC_SUCCEED("refused");
    }
  }));
}
