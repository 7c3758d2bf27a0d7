// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <string>

#include "io/html_writer.hpp"
#include "io/svg_writer.hpp"

using namespace overjoist;

// Source: HTML Living Standard, 13.3 'Serializing HTML fragments' (escaping a string): & < > and, in attributes, quotes.
TEST_CASE("html: markup and quotes of a text stay text") {
  CHECK(io::html_text("<script>alert(\"x\")</script> & 'y'") == "&lt;script&gt;alert(\"x\")&lt;/script&gt; &amp; 'y'");
  CHECK(io::html_attribute("a\" onload=\"b") == "a&quot; onload=&quot;b");
}

// Source: HTML Living Standard, 4.5.24 (the bdi element isolates text whose direction is not known). U+05D0 is Hebrew alef,
// U+202E the override that would turn round what follows: `printable` shows it.
TEST_CASE("html: letters from right to left are isolated, controls are shown") {
  CHECK(io::html_text("from \u05D0\u05D1 \u05D2 to 12 in.") == "from <bdi>\u05D0\u05D1 \u05D2</bdi> to 12 in.");
  CHECK(io::html_text("a\u202Eb") == "a\\u{202E}b");
  CHECK(io::html_attribute("\u05D0") == "\u05D0");
}

// Hand derivation: what was opened last is closed first; a table has a caption, heads of columns and of rows.
TEST_CASE("html: a page closes what it opened and tables have scopes") {
  std::string out;
  io::Html page(out, {"<title>", "Test"});
  page.table_begin("Read", {"marker", "depth"});
  page.row({"1", "14 in."});
  page.finish();
  CHECK(out.rfind("<!DOCTYPE html>\n<html lang=\"en\">", 0) == 0);
  CHECK(out.find("<title>&lt;title&gt;</title>") != std::string::npos);
  CHECK(out.find("<caption>Read</caption>") != std::string::npos);
  CHECK(out.find("<th scope=\"col\">depth</th>") != std::string::npos);
  CHECK(out.find("<th scope=\"row\">1</th>\n<td>14 in.</td>") != std::string::npos);
  const std::string end = "</tbody>\n</table>\n</main>\n</body>\n</html>\n";
  CHECK(out.substr(out.size() - end.size()) == end);
}

// Hand derivation: 10 of 0..20 on 100..300 lies at 200; 0.1 rounds to two decimals; 7 in at most 4 parts takes steps of 2.
TEST_CASE("svg: numbers are plain decimals, scales are linear, steps are round") {
  const io::Scale scale{0.0, 20.0, 100.0, 300.0};
  CHECK(scale(10.0) == doctest::Approx(200.0).epsilon(1e-12));  // exact arithmetic: rounding noise only
  CHECK(io::svg_number(0.0000001) == "0");
  CHECK(io::svg_number(12.345678) == "12.35");
  CHECK(io::round_step(7.0, 4) == doctest::Approx(2.0).epsilon(1e-12));
  CHECK(io::round_step(60.0, 6) == doctest::Approx(10.0).epsilon(1e-12));
}
