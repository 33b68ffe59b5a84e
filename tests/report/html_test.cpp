// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/report/html.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>

using namespace grainwright;

TEST_CASE("text becomes references, never markup") {
  CHECK(escaped("a < b & \"c\" > 'd'") == "a &lt; b &amp; &quot;c&quot; &gt; &#39;d&#39;");
  CHECK(escaped("<script>alert(1)</script>") == "&lt;script&gt;alert(1)&lt;/script&gt;");
  CHECK(escaped("&amp;") == "&amp;amp;");
  CHECK(escaped("") == "");
}

TEST_CASE("letters of every script stay as they are") {
  CHECK(escaped("Zündung, שלום, 推力, 🚀") == "Zündung, שלום, 推力, 🚀");
  CHECK(escaped("tab\tand\nline") == "tab\tand\nline");
}

TEST_CASE("what is no text becomes the replacement character") {
  CHECK(escaped(std::string("\0", 1)) == "\uFFFD");
  CHECK(escaped("bell\a, escape\x1b[31m") == "bell\uFFFD, escape\uFFFD[31m");
  CHECK(escaped("\xff\xfe") == "\uFFFD\uFFFD");
  CHECK(escaped("cut off \xe2\x82") == "cut off \uFFFD\uFFFD");
  CHECK(escaped("overlong \xc0\xbc") == "overlong \uFFFD\uFFFD");
  CHECK(escaped("surrogate \xed\xa0\x80") == "surrogate \uFFFD\uFFFD\uFFFD");
  CHECK(escaped("past the end \xf4\x90\x80\x80") == "past the end \uFFFD\uFFFD\uFFFD\uFFFD");
  CHECK(escaped("no text \xef\xbf\xbf") == "no text \uFFFD");
}

TEST_CASE("a direction override ends with its text") {
  CHECK(set_apart("\u202E<b>") == "<bdi>\u202E&lt;b&gt;</bdi>");
}

TEST_CASE("no bytes whatever open a tag or end an attribute") {
  CHECK(rc::check("any bytes", [](const std::string& bytes) {
    const std::string html = escaped(bytes);
    RC_ASSERT(html.find_first_of("<>\"'") == std::string::npos);
    RC_ASSERT(std::ranges::none_of(html, [](char c) {
      return static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n';
    }));
    // What is sound already comes out sound: nothing is replaced twice.
    RC_ASSERT(escaped(html).find("\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD") ==
                  std::string::npos ||
              bytes.size() >= 10);
  }));
}
