// SPDX-License-Identifier: MIT
#include "write/json/writer.hpp"

#include <charconv>
#include <cstdint>
#include <cstring>
#include <limits>
#include <optional>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using overjoist::io::JsonWriter;

namespace {

std::string number_text(double value) {
  std::string out;
  JsonWriter(out, false).number(value);
  return out;
}

std::string string_text(std::string_view text) {
  std::string out;
  JsonWriter(out, false).string(text);
  return out;
}

void write_sample(JsonWriter& w) {
  w.object([&] {
    w.field("a", 1.5);
    w.list("list", [&] {
      w.number(1);
      w.object([] {});
      w.null();
    });
    w.list("none", [] {});
    w.field("t", "x");
  });
}

}  // namespace

// Hand derivation: commas stand between values of one level only, RFC 8259 sections 4 and 5.
TEST_CASE("json writer: nested values on one line have commas between them only") {
  std::string out;
  JsonWriter w(out, false);
  write_sample(w);
  CHECK(out == R"({"a":1.5,"list":[1,{},null],"none":[],"t":"x"})");
}

// Hand derivation: two blanks a level, one value a line, empty containers closed at once.
TEST_CASE("json writer: pretty form indents by two blanks and keeps empty containers short") {
  std::string out;
  JsonWriter w(out, true);
  write_sample(w);
  CHECK(out ==
        "{\n  \"a\": 1.5,\n  \"list\": [\n    1,\n    {},\n    null\n  ],\n  \"none\": [],\n  "
        "\"t\": \"x\"\n}");
}

// Hand derivation: the shortest decimal that lies nearer to the value than to its neighbours; -0
// has no meaning here.
TEST_CASE("json writer: numbers come in their shortest form, whole ones without exponent") {
  CHECK(number_text(0.1) == "0.1");
  CHECK(number_text(13.25) == "13.25");
  CHECK(number_text(100000) == "100000");
  CHECK(number_text(1200000) == "1200000");
  CHECK(number_text(0.00025) == "0.00025");
  CHECK(number_text(-0.0) == "0");
  CHECK(number_text(1e300) == "1e+300");
}

// Invariant: what is written reads back as the same bits, over bit patterns of a generator whose
// values the standard fixes.
TEST_CASE("json writer: every finite number reads back the same") {
  std::mt19937_64 patterns(1);
  for (int i = 0; i < 2000; ++i) {
    const std::uint64_t bits = patterns();
    double value = 0;
    std::memcpy(&value, &bits, sizeof value);
    if (!(value - value == 0.0)) continue;  // infinity or not a number
    const std::string text = number_text(value);
    double back = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), back);
    CHECK(read.ptr == text.data() + text.size());
    CHECK(back == value);
  }
}

// Invariant: JSON has no word for these, and a result that holds one is a fault of ours.
TEST_CASE("json writer: a number that is not finite is refused") {
  CHECK_THROWS_AS(number_text(std::numeric_limits<double>::quiet_NaN()), std::logic_error);
  CHECK_THROWS_AS(number_text(std::numeric_limits<double>::infinity()), std::logic_error);
}

// Source: RFC 8259 section 7 (quotation mark, reverse solidus and U+0000 to U+001F must be
// escaped).
TEST_CASE("json writer: quotes, backslashes and control characters are escaped") {
  CHECK(string_text("a\"b\\c") == R"("a\"b\\c")");
  CHECK(string_text("line\nbreak\ttab") == R"("line\nbreak\ttab")");
  CHECK(string_text(std::string_view("\0\x1b[31m", 6)) == R"("\u0000\u001b[31m")");
  CHECK(string_text("") == R"("")");
}

// Invariant: a result on a terminal cannot be steered by a name in it; other letters stay as they
// are.
TEST_CASE("json writer: terminal controls are escaped and letters of any script are kept") {
  CHECK(string_text("\x7f") == R"("\u007f")");
  CHECK(string_text("\xC2\x9B") == R"("\u009b")");
  CHECK(string_text("\xE2\x80\xAEx") == R"("\u202ex")");
  CHECK(string_text("caf\xC3\xA9 \xE5\xB1\x8B") == "\"caf\xC3\xA9 \xE5\xB1\x8B\"");
}

// Source: The Unicode Standard, table 3-7 (well-formed byte sequences): overlong, surrogate, cut
// and stray bytes.
TEST_CASE("json writer: bad UTF-8 becomes the replacement character") {
  CHECK(string_text("a\xFF"
                    "b") == R"("a\ufffdb")");
  CHECK(string_text("\xC0\x80") == R"("\ufffd\ufffd")");
  CHECK(string_text("\xED\xA0\x80") == R"("\ufffd\ufffd\ufffd")");
  CHECK(string_text("x\xE2\x80") == R"("x\ufffd\ufffd")");
}

// Invariant: the user's own keys come out byte for byte, and a record on one line stays on one
// line.
TEST_CASE("json writer: raw text is copied, its line breaks become blanks on one line only") {
  for (const bool pretty : {false, true}) {
    std::string out;
    JsonWriter w(out, pretty);
    w.object([&] {
      w.text_key("x_\"n");
      w.raw("{\"a\":\r\n 1.50}");
    });
    CHECK(out ==
          (pretty ? "{\n  \"x_\\\"n\": {\"a\":\r\n 1.50}\n}" : "{\"x_\\\"n\":{\"a\":   1.50}}"));
  }
}

// Symptom: a bidirectional control or a tag in a key of one's own reached the terminal. Cause: raw
// text was copied byte by byte. Hand derivation: U+E0041 - 0x10000 = 0xD0041; 0xD800 + (0xD0041 >>
// 10) = 0xDB40, 0xDC00 + 0x041 = 0xDC41.
TEST_CASE(
    "json writer: hidden characters are escaped, as a text and in raw text; a pair of escapes "
    "beyond U+FFFF") {
  const std::string tag = "\xF3\xA0\x81\x81", zero_width = "\xE2\x80\x8B",
                    override = "\xE2\x80\xAE", house = "\xF0\x9F\x8F\xA0";
  CHECK(string_text(tag + zero_width + override + house) ==
        R"("\udb40\udc41\u200b\u202e)" + house + "\"");
  for (const bool pretty : {false, true}) {
    std::string out;
    JsonWriter(out, pretty).raw("[\"" + tag + zero_width + override + house + "\x7f\"]");
    CHECK(out == R"(["\udb40\udc41\u200b\u202e)" + house + R"(\u007f"])");
  }
}

// Invariant: what is not known is null, never 0 and never left out.
TEST_CASE("json writer: an empty optional or text is null") {
  std::string out;
  JsonWriter w(out, false);
  w.object([&] {
    w.field("a", std::optional<double>());
    w.field("b", std::optional<overjoist::Length>(overjoist::inches(2)));
    w.field("c", std::optional<int>(7));
    w.field_or_null("d", "");
    w.field_or_null("e", "z");
    w.object_or_null("f", std::optional<int>(), [&](int value) { w.field("g", value); });
    w.object_or_null("h", std::optional<int>(1), [&](int value) { w.field("g", value); });
  });
  CHECK(out == R"({"a":null,"b":2,"c":7,"d":null,"e":"z","f":null,"h":{"g":1}})");
}

// Invariant: a row of a list is one value, and the rows keep their order.
TEST_CASE("json writer: a list has one value for each row, an object, a number or a text") {
  std::string out;
  JsonWriter w(out, false);
  const std::vector<int> rows = {3, 1};
  w.object([&] {
    w.list("numbers", rows, [&](int row) { w.number(row); });
    w.objects("rows", rows, [&](int row) { w.field("n", row); });
    w.texts("texts", std::vector<std::string>{"b", "a"});
    w.objects("none", std::vector<int>(), [&](int row) { w.field("n", row); });
  });
  CHECK(out == R"({"numbers":[3,1],"rows":[{"n":3},{"n":1}],"texts":["b","a"],"none":[]})");
}

// Invariant: a flag is never written as 1 or 0, and a text never as a flag.
TEST_CASE("json writer: a flag is true, false or null, and a literal is a text") {
  std::string out;
  JsonWriter w(out, false);
  w.object([&] {
    w.field("a", true);
    w.field("b", std::optional<bool>(false));
    w.field("c", std::optional<bool>());
    w.field("d", "true");
  });
  CHECK(out == R"({"a":true,"b":false,"c":null,"d":"true"})");
}
