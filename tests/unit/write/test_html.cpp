// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "write/document/html.hpp"
#include "write/document/html_page.hpp"
#include "write/document/svg.hpp"

using namespace overjoist;

// Source: HTML Living Standard, 13.3 'Serializing HTML fragments' (escaping a string): & < > and,
// in attributes, quotes.
TEST_CASE("html: markup and quotes of a text stay text") {
  CHECK(io::html_text("<script>alert(\"x\")</script> & 'y'") ==
        "&lt;script&gt;alert(\"x\")&lt;/script&gt; &amp; 'y'");
  CHECK(io::html_attribute("a\" onload=\"b") == "a&quot; onload=&quot;b");
}

// Source: HTML Living Standard, 4.5.24 (the bdi element isolates text whose direction is not
// known). U+05D0 is Hebrew alef, U+202E the override that would turn round what follows:
// `printable` shows it.
TEST_CASE("html: letters from right to left are isolated, controls are shown") {
  CHECK(io::html_text("from \u05D0\u05D1 \u05D2 to 12 in.") ==
        "from <bdi>\u05D0\u05D1 \u05D2</bdi> to 12 in.");
  CHECK(io::html_text("a\u202Eb") == "a\\u{202E}b");
  CHECK(io::html_attribute("\u05D0") == "\u05D0");
}

// Hand derivation: what was opened last is closed first; a table has a caption, heads of columns
// and of rows.
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

// Hand derivation: 10 of 0..20 on 100..300 lies at 200; 0.1 rounds to two decimals; 7 in at most 4
// parts takes steps of 2; a tick has the decimals of its step.
TEST_CASE("svg: numbers are plain decimals, scales are linear, steps are round") {
  const io::Scale scale{0.0, 20.0, 100.0, 300.0};
  CHECK(scale(10.0) ==
        doctest::Approx(200.0).epsilon(1e-12));  // exact arithmetic: rounding noise only
  CHECK(io::svg_number(0.0000001) == "0");
  CHECK(io::svg_number(12.345678) == "12.35");
  CHECK(io::round_step(7.0, 4) == doctest::Approx(2.0).epsilon(1e-12));
  CHECK(io::tick_text(0.5, 0.5) == "0.5");
  CHECK(io::tick_text(0.15, 0.05) == "0.15");
  CHECK(io::tick_text(20.0, 5.0) == "20");
  CHECK(io::round_step(60.0, 6) == doctest::Approx(10.0).epsilon(1e-12));
}

namespace {

/// What is written on the page, without head and style.
template <class F>
std::string on_page(F write) {
  std::string out;
  io::Html html(out, {"t", ""});
  {
    io::HtmlPage page(html);
    write(page);
  }
  html.finish();
  const std::size_t from = out.find("<main>") + 6;
  std::string body = out.substr(from, out.find("</main>") - from);
  body.erase(std::remove(body.begin(), body.end(), '\n'), body.end());
  return body;
}

}  // namespace

// Common practice: HTML names a list, a term and a numbered item by elements of their own, where
// text has a lead. A text that looks like a lead stays text.
TEST_CASE("html page: the call says which element a text becomes, its words do not") {
  const std::string body = on_page([](io::HtmlPage& page) {
    page.item("one", 2);
    page.item("[ ] two", 2);
    page.numbered(1, "first", 5);
    page.tick("tick", 2, false);
    page.fact("  found", "fact", 12);
    page.paragraph("- plain");
  });
  CHECK(body ==
        "<ul><li>one</li><li>[ ] two</li></ul><ol><li>first</li></ol><ul class=\"ticks\"><li><span "
        "class=\"box\"></span>tick</li></ul>"
        "<dl><div><dt>found</dt><dd>fact</dd></div></dl><p>- plain</p>");
}

// Hand derivation: a text between rows is a line of the table; after a paragraph the table goes on
// under the same heads; a table that has none takes those of both ends of the band.
TEST_CASE("html page: tables keep their heads") {
  const std::string body = on_page([](io::HtmlPage& page) {
    page.name_ends({"low", "high"});
    page.heading("Costs");
    page.head("for", {"A", "B"});
    page.row("x", {"1", "2"});
    page.aside("aside", 4);
    page.paragraph("between", 2);
    page.row("y", {"3", "4"});
    page.heading("More");
    page.row("z", {"5", "6"});
  });
  const std::string named =
      "<thead><tr><th scope=\"col\">for</th><th scope=\"col\">A</th><th "
      "scope=\"col\">B</th></tr></thead>";
  const std::size_t first = body.find(named);
  CHECK(first != std::string::npos);
  CHECK(
      body.find(
          "<tr class=\"aside\"><td colspan=\"3\">aside</td></tr></tbody></table><p>between</p>") !=
      std::string::npos);
  CHECK(body.find(named, first + 1) != std::string::npos);
  CHECK(body.find("<td></td><th scope=\"col\">low</th><th scope=\"col\">high</th>") !=
        std::string::npos);
}

// Invariant: the stop banner is a box that holds its numbered items and ends before the next
// heading.
TEST_CASE("html page: an alarm is a box that the next part closes") {
  const std::string body = on_page([](io::HtmlPage& page) {
    page.stop("no work");
    page.numbered(1, "gas", 5);
    page.heading("Next");
  });
  CHECK(body.find("<strong class=\"badge\">STOP</strong> <span>no "
                  "work</span></p><ol><li>gas</li></ol></div><section") != std::string::npos);
}

// Invariant: a name of any length is written whole; only the window's title is cut.
TEST_CASE("html: a name of 300 characters is whole in the text and short in the title") {
  const std::string name(300, 'W');
  std::string out;
  io::Html page(out, {name, ""});
  page.heading(1, name);
  page.finish();
  CHECK(out.find("<h1>" + name + "</h1>") != std::string::npos);
  CHECK(out.find("<title>" + name) == std::string::npos);
}
