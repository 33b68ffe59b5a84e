// SPDX-License-Identifier: GPL-3.0-or-later
//
// Cells by RFC 4180, section 2, and by what loggers make of it.
#include "../../src/stand/cells.hpp"

#include <catch2/catch.hpp>

namespace gw = grainwright;

namespace {

std::vector<std::string> texts(std::string_view line, char delimiter = ',') {
  std::vector<std::string> found;
  for (const gw::Cell& cell : gw::cells_of(line, delimiter)) found.push_back(gw::text_of(cell));
  return found;
}
using Texts = std::vector<std::string>;

double number(const std::string& text, bool comma = false) {
  double value = -1;
  std::string_view line = text;
  return gw::read_number(gw::next_cell(line, ';'), {comma}, value) ? value : -1;
}

}  // namespace

TEST_CASE("Cells are those of RFC 4180") {
  CHECK(texts("aaa,bbb,ccc") == Texts{"aaa", "bbb", "ccc"});
  CHECK(texts(R"("aaa","bbb","ccc")") == Texts{"aaa", "bbb", "ccc"});
  CHECK(texts(R"("Time, s","Thrust, N")") == Texts{"Time, s", "Thrust, N"});
  CHECK(texts(R"("aaa","b""bb","ccc")") == Texts{"aaa", "b\"bb", "ccc"});
  CHECK(texts(R"("",,"")") == Texts{"", "", ""});
  CHECK(texts("a,b,") == Texts{"a", "b", ""});
  CHECK(texts("").size() == 1);
}

TEST_CASE("Blanks around cells are left out, and a quote inside one is a quote") {
  CHECK(texts("  a ; \"b\" ;c\r", ';') == Texts{"a", "b", "c"});
  CHECK(texts("5\" pipe,2") == Texts{"5\" pipe", "2"});
  CHECK(texts("\"a\" b,2") == Texts{"\"a\" b", "2"});
  CHECK(texts("  1   2\t3 ", ' ') == Texts{"1", "2", "3"});
  CHECK(gw::cells_of("\"never closed,2", ',').front().open);
}

TEST_CASE("Numbers may have decimal commas, and thousands set apart by threes") {
  CHECK(number("1234.5") == 1234.5);
  CHECK(number("1,234.5") == 1234.5);
  CHECK(number("\"1,234,567.5\"") == 1234567.5);
  CHECK(number("1'234.5") == 1234.5);
  CHECK(number("1 234") == 1234);
  CHECK(number("-1,234.5") == -1234.5);
  CHECK(number("1\xC2\xA0"
               "234,5",
               true) == 1234.5);
  CHECK(number("1.234,5", true) == 1234.5);
  CHECK(number("0,25", true) == 0.25);
  CHECK(number("1,23.5") == -1);
  CHECK(number("12,34") == -1);
  CHECK(number("0,001") == -1);
  CHECK(number("1,234 567") == -1);
  CHECK(number("1.5", true) == -1);
  CHECK(number("1.2.3") == -1);
  CHECK(number("") == -1);
}
