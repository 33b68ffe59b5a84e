// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/utf8.hpp"

#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include <string>

using grainwright::plain_line;
using grainwright::plain_text;

TEST_CASE("what a terminal obeys is left out, and what it shows stays") {
  // ECMA-48 5th ed. (1991), 5.4: CSI, numbers, a letter.
  CHECK(plain_text("\x1b[31mred\x1b[0m") == "red");
  CHECK(plain_text("\x1b[2J\x1b[1;1Hgone") == "gone");
  CHECK(plain_text("\x1b[?1049h") == "");
  CHECK(plain_text("\xc2\x9b"
                   "31mred") == "red");  // CSI as one character of C1
  CHECK(plain_text("a\x07"
                   "b\x08"
                   "c\x7f"
                   "d\xc2\x85"
                   "e\rf\x0bg") == "abcdefg");
  CHECK(plain_text("\xe2\x80\xaeright to left\xe2\x80\xac") == "right to left");
  CHECK(plain_text("\xe2\x81\xa6"
                   "apart\xe2\x81\xa9") == "apart");
  CHECK(plain_text("a\tb\nc") == "a b\nc");
  CHECK(plain_line("a\tb\nc") == "a b c");
  CHECK(plain_text(std::string("a\0b", 3)) == "ab");
}

TEST_CASE("of other sequences only what cannot be shown goes, so that no figure goes with it") {
  CHECK(plain_text("\x1b]0;name\x07 3.4 MPa") == "]0;name 3.4 MPa");
  CHECK(plain_text("\x1b[") == "[");
  CHECK(plain_text("name\x1b[3.4 MPa") == "name[3.4 MPa");
  CHECK(plain_text("name\x1b[ gives 3 MPa") == "name[ gives 3 MPa");
  CHECK(plain_text("name\x1b[12 mm") == "name[12 mm");
  CHECK(plain_text("name\x1b"
                   "7 mm") == "name7 mm");
}

TEST_CASE("UTF-8 stays as it is, and what is none becomes U+FFFD") {
  const std::string text =
      "Gr\xc3\xb6\xc3\x9f"
      "e \xe2\x96\x81\xe2\x96\x88\xe2\x94\x80 \xd7\xa9 \xf0\x9f\x9a\x80 \xc2\xa0 kg/m\xc2\xb2";
  CHECK(plain_text(text) == text);
  CHECK(plain_text("\xff\x9b\xc3") == "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
  CHECK(plain_text("\xe2\x80") == "\xEF\xBF\xBD\xEF\xBF\xBD");
}

TEST_CASE("whatever bytes come, none that a terminal obeys goes out, and twice is once") {
  CHECK(rc::check("any bytes", [](const std::string& bytes) {
    const std::string text = plain_text(bytes);
    for (std::string_view rest = text; !rest.empty();) {
      const auto next = grainwright::character_at(rest);
      RC_ASSERT(next.sound);
      RC_ASSERT(next.code == '\n' || !grainwright::commands_terminal(next.code));
      rest.remove_prefix(next.size);
    }
    RC_ASSERT(plain_text(text) == text);
  }));
}
