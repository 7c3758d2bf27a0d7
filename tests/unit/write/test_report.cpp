// SPDX-License-Identifier: MIT
#include "overjoist/report.hpp"

#include <algorithm>

#include <doctest/doctest.h>

#include "report_fixture.hpp"
#include "write/document/page.hpp"

using namespace report_fixture;  // and with it the library's words

namespace {

std::string text_of(const Evaluation& e, Units units = Units::us, bool colour = false) {
  std::string out;
  write_text(out, e, small_tables(), {units, colour});
  return out;
}

// Line breaks and indents of the wrap as single blanks, to look for a sentence.
std::string flowing(std::string_view text) {
  std::string out;
  for (const char c : text)
    if (c != '\n' && c != ' ')
      out += c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  return out;
}

std::size_t widest_line(std::string_view text) {
  std::size_t widest = 0;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    widest = std::max(widest, io::columns(text.substr(start, end - start)));
    start = end + 1;
  }
  return widest;
}

}  // namespace

// Invariant: 80 columns hard, whatever the survey's names are.
TEST_CASE("report text: no line is wider than 80 columns") {
  for (const Units units : {Units::us, Units::si})
    for (const Evaluation& e : {one_floor(), stopped_floor(), many_sections(), nasty_names()})
      CHECK(widest_line(text_of(e, units)) <= 80);
}

// Invariant: text from a survey cannot act as terminal control.
TEST_CASE("report text: control characters of a survey are shown as codes") {
  const std::string out = text_of(nasty_names());
  CHECK_FALSE(has(out, "\x1b"));
  CHECK_FALSE(has(out, "\x07"));
  CHECK_FALSE(has(out, "\xC2\x9B"));
  CHECK_FALSE(has(out, "\xE2\x80\xAE"));
  CHECK(has(out, "\\x1B]0;owned\\x07 \\u{202E}WWW"));
}

// Invariant: a stop-work condition stands above every number, and the numbers still follow.
TEST_CASE("report text: a stop banner comes before the answer and names who decides") {
  const std::string out = text_of(stopped_floor());
  const std::size_t banner = out.find("STOP: no insulation work until these are cleared");
  REQUIRE(banner != std::string::npos);
  CHECK(banner < out.find("R-"));
  CHECK(has(flowing(out),
            "1. attic floor: Treat it as asbestos: do not disturb it. Who decides: asbestos "
            "professional. "
            "What clears it: written release."));
  CHECK(has(out, "You have"));
  CHECK(has(flowing(out), "Before that fix first: too much weight (attic floor). More below."));
  CHECK(has(flowing(out), "- fill taken as asbestos (attic floor). See the top of this report."));
  CHECK(has(flowing(out),
            "porch: fill taken as asbestos. Cleared by A. Reader on 2026-02-03 (release 7)."));
  CHECK_FALSE(has(text_of(one_floor()), "STOP"));
}

// Invariant: what must be fixed first is said in words, each once; where nothing is added there is
// no 'before that'.
TEST_CASE("report text: what to fix first is listed once and in plain words") {
  Evaluation e = stopped_floor();
  const auto weight =
      std::find_if(e.findings.cautions.begin(), e.findings.cautions.end(),
                   [](const Caution& c) { return c.level == CautionLevel::fix_first; });
  REQUIRE(weight != e.findings.cautions.end());
  e.findings.cautions.insert(weight, Caution(*weight));
  const std::string out = flowing(text_of(e));
  CHECK(has(out, "Before that fix first: too much weight (attic floor). More below."));
  CHECK_FALSE(has(out, "ceiling-weight"));
  e.planned.low.totals.bags = e.planned.high.totals.bags = 0.0;
  CHECK(has(flowing(text_of(e)), "Fix first too much weight (attic floor). More below."));
  CHECK_FALSE(has(text_of(e), "Before that"));
}

// Invariant: a ceiling over its limit gets a level only where one is within it and the whole weight
// is known.
TEST_CASE("report text: without a level within the weight limit the reason stands there") {
  Evaluation e = one_floor();
  for (TopUp* t : {&e.planned.low.sections[0], &e.planned.high.sections[0]})
    t->weight_greatest = MassPerArea::from_us(2.5);
  e.planned.high.sections[0].weight_at_least = true;
  CHECK(has(flowing(text_of(e)), "best level within that weight none not known"));
  CHECK_FALSE(has(text_of(one_floor()), "best level"));
  e.planned.low.sections[0].within_weight = WithinWeight{inches(15.25), r_value(45), r_value(46)};
  CHECK(has(flowing(text_of(e)), "best level within that weight 15 1/4 in. not known"));
  CHECK(has(flowing(text_of(e, Units::si)),
            "best level within that weight 38.7 cm not known"));  // 38.735, down
}

// Invariant: colour only where it is asked for, and the banner in red.
TEST_CASE("report text: colour marks headings and the stop banner only when asked for") {
  const std::string out = text_of(stopped_floor(), Units::us, true);
  CHECK(has(out, "\x1b[1;31mSTOP: no insulation work until these are cleared\x1b[0m"));
  CHECK(has(out, "\x1b[1mIn total\x1b[0m"));
  CHECK_FALSE(has(text_of(stopped_floor()), "\x1b"));
}

// Hand derivation: figures of the fixture, R down, money up: 630.4 + 480 = 1110.4 -> 1111, 900.6 +
// 480 = 1380.6 -> 1381.
TEST_CASE("report text: the answer says what is there, what to add and what it takes") {
  const std::string out = flowing(text_of(one_floor()));
  CHECK(has(out,
            "You have R-13.2 over the whole attic (effective: films, ceiling and joists count). "
            "The insulation alone is "
            "worth R-12.3 (working), 4.25 in. deep on average."));
  CHECK(has(out, "You want R-38 to R-49 for the insulation alone (working), climate zone 5."));
  CHECK(has(out,
            "Add cellulose, loose: to 13 1/4 in. for R-38; to 17 in. for R-49 (as blown, from the "
            "ceiling up)."));
  CHECK(has(out,
            "It takes 42 bags of 25 lb for R-38, 60 bags of 25 lb for R-49. Cost: 1111 USD for "
            "R-38, 1381 USD for R-49."));
}

// Invariant: met, out of reach and not priced are said in words, with which R it is.
TEST_CASE("report text: several sections each say what they need or why not") {
  const std::string out = flowing(text_of(many_sections()));
  CHECK(has(out, "attic floor: to 13 1/4 in. for R-38; to 17 in. for R-49."));
  CHECK(has(out, "R-38 is out of reach, the deck allows 9 1/4 in., which gives R-28.0 (working)"));
  CHECK(has(out,
            "It takes 42 bags of 25 lb as far as it fits towards R-38, 60 bags of 25 lb as far as "
            "it fits towards R-49."));
  CHECK(has(out, "reached in every section no no"));
  CHECK(has(out, "new wing: nothing, R-38 and R-49 are met now."));
  CHECK(has(out, "Cost: not priced."));
  CHECK(has(out, "21.5 effective; no loose fill goes here."));
  CHECK(has(out, "take out cellulose, loose: 60 ft2, 18.2 ft3, before anything is added."));
  CHECK(has(out, "left bare light-cover, by the bath: 4.5 ft2, R-2.1 from air to air."));
}

// Hand derivation: printed R after is 14.8, 13.5, 12.3, 13.8, 13.2 (down), so the printed changes
// are their differences.
TEST_CASE("report text: the losses add up as printed and steps without loss are left out") {
  const std::string out = flowing(text_of(one_floor()));
  CHECK(has(
      out,
      "yardstick: mean depth x R of the fill R-14.8 uneven depth, thin spots lose more -1.3 R-13.5 "
      "bare spots and voids -1.2 R-12.3 air films, ceiling and deck +1.5 R-13.8 joists beside the "
      "fill -0.6 R-13.2"));
  CHECK_FALSE(has(out, "batts squeezed"));
}

// Invariant: where nothing is to be bought, no bags and no costs are listed.
TEST_CASE("report text: an attic that meets both ends needs nothing and lists no totals") {
  Evaluation e = one_floor();
  for (TopUp* t : {&e.planned.low.sections[0], &e.planned.high.sections[0]})
    t->status = TopUpStatus::met;
  e.planned.low.totals = e.planned.high.totals = Totals{};
  e.planned.low.totals.bags = e.planned.high.totals.bags = 0.0;
  const std::string out = text_of(e);
  CHECK(has(out, "Add         nothing, R-38 and R-49 are met now."));
  CHECK_FALSE(has(out, "It takes"));
  CHECK_FALSE(has(out, "In total"));
  e.planned.high.totals.bags = 60.0;
  CHECK(has(flowing(text_of(e)), "It takes no bags for R-38, 60 bags for R-49. Cost: not priced."));
}

// Invariant: nothing is planned above an unheated room, and the report asks what lies above it.
TEST_CASE("report text: a section above an unheated room gets no fill and the reason is said") {
  Evaluation e = one_floor();
  WholeSection porch = hatch();
  porch.name = "over the garage";
  porch.kind = SectionKind::flat;
  porch.heated_below = false;
  put_in(e, porch);
  const std::string out = flowing(text_of(e));
  CHECK(has(out, "over the garage (flat, 6 ft2, unheated below)"));
  CHECK(has(out,
            "after as it is: nothing is planned over a space that is said to be unheated. Is there "
            "a heated room above it?"));
  e.sections.erase(e.sections.begin());
  for (Planned* p : {&e.planned.low, &e.planned.high}) p->sections.erase(p->sections.begin());
  e.attic = {};
  CHECK(has(flowing(text_of(e)),
            "You have no section over heated rooms, so no saving is worked out. Is there a heated "
            "room above one of them?"));
}

// Invariant: without a material there is no level to show, and the report says what to do.
TEST_CASE("report text: without a material to add the answer says so") {
  Evaluation e = one_floor();
  e.added_material.clear();
  for (TopUp* t : {&e.planned.low.sections[0], &e.planned.high.sections[0]}) {
    *t = TopUp{};
    t->status = TopUpStatus::not_applicable;
  }
  e.planned.low.totals = e.planned.high.totals = Totals{};
  e.extra_costs.clear();
  const std::string out = text_of(e);
  CHECK(has(out, "Add         not worked out: no material to add was named."));
  CHECK_FALSE(has(out, "It takes"));
}

// Invariant: one target gives one column and one phrase.
TEST_CASE("report text: a band with equal ends is shown once") {
  Evaluation e = one_floor();
  e.target.low = e.target.high;
  e.planned.low = e.planned.high;
  const std::string out = flowing(text_of(e));
  CHECK(has(out, "You want R-49 for the insulation alone (working)"));
  CHECK(has(out, "It takes 60 bags of 25 lb for R-49. Cost: 1381 USD."));
  CHECK(count_of(out, "to do") == 1);
}

// Hand derivation: SI factors of units.hpp; 12.34 x 0.17611 = 2.173, 13.21 x 0.17611 = 2.326; 4.25
// x 2.54 = 10.795.
TEST_CASE("report text: SI shows RSI, centimetres, kilograms and square metres") {
  const std::string out = flowing(text_of(one_floor(), Units::si));
  CHECK(has(out, "You have RSI 2.32 m2 K/W over the whole attic"));
  CHECK(has(out, "RSI 2.17 m2 K/W (working), 10.7 cm deep"));
  CHECK(has(out, "attic floor (flat, 92.9 m2)"));
  CHECK(has(out, "42 bags of 11.3 kg"));
  CHECK_FALSE(has(out, "1/4 in."));
}

// Hand derivation: a number stays with what follows, so the line breaks before it.
TEST_CASE("page: words wrap at 80 columns and a number stays with its unit") {
  std::string out;
  io::Page page(out, false);
  page.item(std::string(70, 'a') + " 13 1/4 in. RSI 3.38 m2 K/W", 0);
  CHECK(out == "- " + std::string(70, 'a') + "\n  13 1/4 in. RSI 3.38 m2 K/W\n");
  out.clear();
  page.item(std::string(100, 'b'), 0);
  CHECK(out == "- " + std::string(78, 'b') + "\n  " + std::string(22, 'b') + "\n");
  CHECK(io::columns("\xE5\xB1\x8B"
                    "e\xCC\x81") == 3);
  CHECK(io::cut_to("a long name", 8) == "a lon...");
}

// Hand derivation: file, line, column, pointer, message; the hint below.
TEST_CASE(
    "report text: a fault has its place, message and hint, and none where there is no place") {
  std::string out;
  write_faults_text(out, "a\x1b.json",
                    {{"/sections/0", 3, 5, "no area", "give area_ft2"}, {"", 0, 0, "empty", ""}});
  CHECK(out == "a\\x1B.json:3:5: /sections/0: no area\n  give area_ft2\na\\x1B.json: empty\n");
}

// Invariant: a row comes out with the keys it was read by, blanks left out, a share as the
// percentage it was.
TEST_CASE("report materials: JSON rows have the keys of the table and leave blanks out") {
  Tables t = small_tables();
  Material m;
  m.id = "straw";
  m.name = "Straw, loose";
  m.typical = r_per_inch(1.4);
  m.settling_low = 0.07;
  m.also = {"hay", "thatch"};
  m.sources = {"standard-a"};
  m.status = "published";
  t.materials = {m};
  std::string out;
  write_materials_json(out, t, false);
  CHECK(has(
      out,
      R"("materials":[{"id":"straw","name":"Straw, loose","also":["hay","thatch"],"form":"loose",)"
      R"("r_per_inch":1.4,"settling_low_percent":7,)"
      R"("source":["standard-a"],"status":"published"}])"));
  CHECK(has(
      out,
      R"("sources":[{"id":"standard-a","title":"A standard of assemblies","status":"published"}])"));
}

// Hand derivation: 3.2 and 3.5 x 6.93347 = 22.19 and 24.27 m K/W, 1.6 lb/ft3 x 16.0185 = 25.63
// kg/m3.
TEST_CASE("report materials: text shows range, density and settling in the units asked for") {
  Tables t = small_tables();
  Material m;
  m.id = "cellulose-loose";
  m.name = "Cellulose, loose";
  m.low = r_per_inch(3.2);
  m.high = r_per_inch(3.5);
  m.density_high = Density::from_us(1.6);
  m.settling_low = 0.1;
  m.settling_high = 0.2;
  m.sources = {"standard-a"};
  m.status = "published";
  t.materials = {m};
  std::string us;
  write_materials_text(us, t, Units::us);
  CHECK(has(flowing(us), "cellulose-loose 3.2 / - / 3.5 1.6 10 to 20 %"));
  CHECK(has(us, "Cellulose, loose; published: standard-a."));
  CHECK(widest_line(us) <= 80);
  std::string si;
  write_materials_text(si, t, Units::si);
  CHECK(has(flowing(si), "22.2 / - / 24.3 25.63 10 to 20 %"));
}

// Hand derivation: a printed sheet, R-0.56 at 0.625 in., is 0.56 x 0.17611 = 0.0986 m2 K/W
// at 1.5875 cm.
TEST_CASE("report materials: a thin sheet keeps the places of its R and thickness") {
  Tables t = small_tables();
  Material m;
  m.id = "gypsum-5/8";
  m.name = "5/8 in. gypsum board";
  m.form = Form::ceiling;
  m.also = {"drywall"};
  m.thickness = inches(0.625);
  m.resistance = r_value(0.56);
  t.materials = {m};
  std::string us, si;
  write_materials_text(us, t, Units::us);
  CHECK(has(flowing(us), "gypsum-5/8 R-0.56 - -"));
  CHECK(has(flowing(us), "5/8 in. gypsum board; R of a sheet of 0.625 in.; also drywall;"));
  write_materials_text(si, t, Units::si);
  CHECK(has(si, "RSI 0.099"));
  CHECK(has(flowing(si), "R of a sheet of 1.59 cm"));
}
