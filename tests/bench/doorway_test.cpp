// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/doorway.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

namespace fs = std::filesystem;
using grainwright::bench::Doorway;

TEST_CASE("a doorway leads on, is its owner's alone, and goes with its end") {
  fs::path file;
  {
    const Doorway doorway("http://127.0.0.1:4321/0123456789abcdef0123456789abcdef/");
    file = doorway.file();
    CHECK(file.extension() == ".html");
    CHECK(file.string().find("0123456789abcdef") == std::string::npos);
    CHECK(fs::status(file).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
    std::ostringstream page;
    page << std::ifstream(file).rdbuf();
    CHECK(page.str().find("0;url=http://127.0.0.1:4321/0123456789abcdef0123456789abcdef/\"") !=
          std::string::npos);
  }
  CHECK_FALSE(fs::exists(file));
}

TEST_CASE("each doorway is another one") {
  CHECK(Doorway("http://127.0.0.1:1/").file() != Doorway("http://127.0.0.1:1/").file());
}
