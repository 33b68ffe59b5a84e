// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/replies.hpp"

#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <random>

#include "bench/jobs.hpp"
#include "grainwright/error.hpp"

using namespace grainwright;
using bench::Desk;
using bench::Json;
using bench::Reply;

namespace {

/// A folder with one job in it, and a desk on it.
struct Room {
  program::Folder folder;
  std::string text = program::content(bench_jobs::case_file(bench_jobs::flat));
  Desk desk{folder.file("job.toml", text)};

  Json request() {
    const auto sheet = desk.newest();
    return {{"stamp", sheet->stamp}, {"state", bench_jobs::start(sheet->job)}};
  }
};

/// Values that nobody would send from the page.
const Json& odd_values() {
  static const Json odd = {nullptr,
                           true,
                           -1,
                           0,
                           1e308,
                           -1e308,
                           1e-320,
                           "",
                           "x",
                           "1 in",
                           {},
                           Json::array(),
                           "nan",
                           "-3 mm",
                           "1e999 mm",
                           18446744073709551615U,
                           "\xf0\x9f\x94\xa5",
                           std::string(5000, '['),
                           {{"a", 1}},
                           {1, 2, 3}};
  return odd;
}

/// One value somewhere in the tree becomes an odd one, or goes.
void spoil(Json& json, std::mt19937& dice) {
  Json* at = &json;
  while (at->is_structured() && !at->empty() && dice() % 5 != 0) {
    auto next = at->begin();
    std::advance(next, static_cast<std::ptrdiff_t>(dice() % at->size()));
    if (at->is_object() && dice() % 12 == 0) {
      at->erase(next);
      return;
    }
    at = &*next;
  }
  *at = odd_values()[dice() % odd_values().size()];
}

}  // namespace

TEST_CASE("several hundred spoilt requests are answered, and touch no file") {
  Room room;
  std::mt19937 dice(20260);
  int refused = 0;
  for (int i = 0; i < 800; ++i) {
    Json request = room.request();
    request["moved"] = {{"what", "length"}, {"segment", 0}};
    request["name"] = "../job.toml";
    const std::string stamp = request["stamp"];
    for (unsigned n = dice() % 3 + 1; n > 0; --n) spoil(request, dice);
    if (dice() % 2 == 0 && request.is_object()) request["stamp"] = stamp;
    for (const char* errand : {"answer", "save"}) {
      Reply reply;
      try {
        reply = bench::done(errand, bench::read_body(request.dump()), room.desk);
      } catch (const InputError&) {
        reply.status = 422;
      }
      const bool known = reply.status == 200 || reply.status == 409 || reply.status == 422;
      if (!known) FAIL(request.dump());
      refused += reply.status == 200 ? 0 : 1;
    }
  }
  CHECK(refused > 800);  // every save among them
  CHECK(room.folder.files() == 1);
  CHECK(program::content(room.folder.file("job.toml")) == room.text);
}

TEST_CASE("what is no JSON table, or nested too deep, is refused") {
  for (const std::string& body :
       {std::string(), std::string("{"), std::string("[]"), std::string("3"),
        std::string("{\"a\":1e999}"), std::string("{\"a\":\"\xff\"}"), std::string(30000, '['),
        std::string(3000, '{'), std::string("{}{}"), std::string(1, '\0')}) {
    CHECK_THROWS_AS(bench::read_body(body), InputError);
  }
  std::string deep = "{\"a\":";
  for (int i = 0; i < 5000; ++i) deep += "[";
  CHECK_THROWS_AS(bench::read_body(deep + std::string(5000, ']') + "}"), InputError);
}

TEST_CASE("a request about a job that was never open is refused") {
  Room room;
  Json request = room.request();
  request["stamp"] = "0000000000000000";
  CHECK(bench::done("answer", request, room.desk).status == 422);
  CHECK(bench::done("shut", room.request(), room.desk).status == 404);
}

TEST_CASE("the page and all that it names is there, and nothing else") {
  const Reply page = bench::page_part("");
  REQUIRE(page.status == 200);
  CHECK(page.type.starts_with("text/html"));
  CHECK(page.body.find("bench.js") != std::string::npos);
  for (const char* part : {"bench.css", "bench.js", "wire.js", "drawing.js", "icon.svg"}) {
    CHECK(bench::page_part(part).status == 200);
  }
  CHECK(bench::page_part("job.toml").status == 404);
  CHECK(bench::page_part("..").status == 404);
}

TEST_CASE("the page holds no script and no style of its own, as its policy demands") {
  const std::string body = bench::page_part("").body;
  CHECK(body.find("<style") == std::string::npos);
  CHECK(body.find("style=") == std::string::npos);
  CHECK(body.find("onclick") == std::string::npos);
  CHECK(body.find("://") == std::string::npos);
}

TEST_CASE("a job that is broken on the disk is told as such, and the windows go on") {
  Room room;
  const Json request = room.request();
  static_cast<void>(room.folder.file("job.toml", "[job]\ntitel = 3\n"));
  const Reply reply = bench::told("opening", room.desk);
  CHECK(reply.status == 422);
  CHECK(reply.body.find("title") != std::string::npos);
  CHECK(bench::done("answer", request, room.desk).status == 200);
}

TEST_CASE("a save over the job's own file gives the window its new stamp") {
  Room room;
  Json request = room.request();
  request["name"] = "job.toml";
  CHECK(bench::done("save", request, room.desk).status == 409);
  request["replace"] = true;
  const Reply reply = bench::done("save", request, room.desk);
  REQUIRE(reply.status == 200);
  CHECK(Json::parse(reply.body)["stamp"] == room.desk.stamp_on_disk());
}

TEST_CASE("the report of a build on the bench is a page of that build, kept apart") {
  Room room;
  Json request = room.request();
  request["state"]["segments"][0]["length_m"] = "2 1/4 in";
  const Reply reply = bench::reported(request, room.desk);
  REQUIRE(reply.status == 200);
  CHECK(reply.foreign);
  CHECK(reply.type.starts_with("text/html"));
  CHECK(reply.body.find("2 1/4 in") != std::string::npos);
  CHECK(room.folder.files() == 1);
  request["state"]["segments"][0]["count"] = 9;
  CHECK(bench::reported(request, room.desk).status == 422);
}
