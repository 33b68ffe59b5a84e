// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/guard.hpp"

#include <catch2/catch.hpp>
#include <set>
#include <vector>

using grainwright::bench::Door;
using grainwright::bench::judged;
using grainwright::bench::Knock;
using grainwright::bench::new_token;
using grainwright::bench::Turnstile;

namespace {

const Door door{4321, "0123456789abcdef0123456789abcdef"};
const std::string ours = "/" + door.token + "/";

Knock get(const std::string& errand = "") {
  Knock knock;
  knock.method = "GET";
  knock.path = ours + errand;
  knock.host = "127.0.0.1:4321";
  return knock;
}

Knock post() {
  Knock knock = get("answer");
  knock.method = "POST";
  knock.origin = "http://127.0.0.1:4321";
  knock.content_type = "application/json";
  knock.content_length = "200";
  knock.fetch_site = "same-origin";
  return knock;
}

template <class Change>
int status_of(Knock knock, Change change) {
  change(knock);
  return judged(knock, door).status;
}

}  // namespace

TEST_CASE("the page's own requests come in") {
  CHECK(judged(get(), door).enter());
  CHECK(judged(get("opening"), door).enter());
  CHECK(judged(post(), door).enter());
  CHECK(status_of(get(), [](Knock& k) { k.fetch_site = "none"; }) == 200);
  CHECK(status_of(post(), [](Knock& k) { k.host = "localhost:4321"; }) == 200);
}

TEST_CASE("a name that only points here is turned away") {
  for (const char* host : {"", "rebound.example:4321", "127.0.0.1", "127.0.0.1:80",
                           "127.0.0.1:43210", "127.0.0.1.example:4321", "0.0.0.0:4321"}) {
    CHECK(status_of(get(), [host](Knock& k) { k.host = host; }) == 421);
  }
}

TEST_CASE("a request from another page is turned away") {
  for (const char* origin : {"http://rebound.example", "null", "https://127.0.0.1:4321",
                             "http://127.0.0.1:4321.example", "http://127.0.0.1:80"}) {
    CHECK(status_of(post(), [origin](Knock& k) { k.origin = origin; }) == 403);
    CHECK(status_of(get(), [origin](Knock& k) { k.origin = origin; }) == 403);
  }
  CHECK(status_of(post(), [](Knock& k) { k.origin = ""; }) == 403);
  CHECK(status_of(post(), [](Knock& k) { k.fetch_site = "cross-site"; }) == 403);
  CHECK(status_of(post(), [](Knock& k) { k.fetch_site = "none"; }) == 403);
  CHECK(status_of(get(), [](Knock& k) { k.fetch_site = "same-site"; }) == 403);
}

TEST_CASE("the page may be come to from another page that knows the token, its errands may not") {
  const auto comes = [](Knock& knock) {
    knock.fetch_site = "cross-site";
    knock.fetch_mode = "navigate";
  };
  CHECK(status_of(get(), comes) == 200);
  for (const char* errand : {"opening", "report", "bench.js", "stamp"}) {
    CHECK(status_of(get(errand), comes) == 403);
  }
  CHECK(status_of(post(), comes) == 403);
  CHECK(status_of(get(), [](Knock& k) { k.fetch_site = "cross-site"; }) == 403);
}

TEST_CASE("nothing is there without the token") {
  const std::vector<std::string> paths = {"/",
                                          "",
                                          "/answer",
                                          "/" + door.token,
                                          ours.substr(0, 20) + "/",
                                          "/1123456789abcdef0123456789abcdef/",
                                          "//" + door.token + "/"};
  for (const std::string& path : paths) {
    CHECK(status_of(get(), [&path](Knock& k) { k.path = path; }) == 404);
  }
}

TEST_CASE("a body must be JSON, plain, and not too long") {
  CHECK(status_of(post(), [](Knock& k) { k.content_type = "text/plain"; }) == 415);
  CHECK(status_of(post(), [](Knock& k) { k.content_type = "multipart/form-data"; }) == 415);
  CHECK(status_of(post(), [](Knock& k) { k.content_length = ""; }) == 411);
  CHECK(status_of(post(), [](Knock& k) { k.content_length = "-1"; }) == 411);
  CHECK(status_of(post(), [](Knock& k) { k.content_length = "99999999999999999999"; }) == 411);
  CHECK(status_of(post(), [](Knock& k) { k.content_length = "12 "; }) == 411);
  CHECK(status_of(post(), [](Knock& k) { k.transfer_encoding = true; }) == 411);
  CHECK(status_of(post(), [](Knock& k) { k.content_length = "40000"; }) == 413);
  CHECK(status_of(post(), [](Knock& k) { k.method = "PUT"; }) == 405);
  CHECK(status_of(get(), [](Knock& k) { k.path.append(7000, 'a'); }) == 414);
}

TEST_CASE("tokens are long and differ") {
  std::set<std::string> tokens;
  for (int i = 0; i < 50; ++i) tokens.insert(new_token());
  CHECK(tokens.size() == 50);
  CHECK(tokens.begin()->size() == 32);
}

TEST_CASE("a turnstile lets a burst through, and then so many a second") {
  Turnstile turnstile(10, 5);
  Turnstile::Clock::time_point now{std::chrono::seconds(1)};
  int passed = 0;
  for (int i = 0; i < 20; ++i) passed += turnstile.passes(now) ? 1 : 0;
  CHECK(passed == 5);
  now += std::chrono::milliseconds(300);
  passed = 0;
  for (int i = 0; i < 20; ++i) passed += turnstile.passes(now) ? 1 : 0;
  CHECK(passed == 3);
}
