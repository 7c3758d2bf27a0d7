// SPDX-License-Identifier: MIT
#include "overjoist/report.hpp"
#include "words/nearest.hpp"
#include "words/words.hpp"

#include <doctest/doctest.h>

using namespace overjoist;  // a test names many of the library's words
using io::Toward;

// Hand derivation: R goes down to 0.1, RSI to 0.01 of x 0.176110; 19.29 -> 19.2; 38 x 0.17611
// = 6.6922 -> 6.69. What is worked out keeps its decimal (R-7.0 beside ), a target or a label
// is said as the trade says it: R-38.
TEST_CASE("words: R is rounded down and carries its unit") {
  CHECK(io::r_text(r_value(19.29), Units::us) == "R-19.2");
  CHECK(io::r_text(r_value(38), Units::us) == "R-38.0");
  CHECK(io::r_text(r_value(1), Units::us) == "R-1.0");
  CHECK(io::r_text(r_value(0.616), Units::us) == "R-0.61");
  CHECK(io::r_text(r_value(0), Units::us) == "R-0");
  CHECK(io::r_label(r_value(38), Units::us) == "R-38");
  CHECK(io::r_label(r_value(37.59), Units::us) == "R-37.5");
  CHECK(io::r_label(r_value(38), Units::si) == "RSI 6.69 m2 K/W");
  CHECK(io::r_text(r_value(37.9999), Units::us) == "R-37.9");
  CHECK(io::r_text(r_value(38), Units::si) == "RSI 6.69 m2 K/W");
  CHECK(io::r_cell(r_value(38), Units::us) == "R-38.0");
  CHECK(io::r_cell(r_value(38), Units::si) == "RSI 6.69");
}

// Hand derivation: a level to reach goes up to the next quarter inch; 13.25 in. x 2.54 = 33.655 cm,
// up to 33.7. One that must not be passed goes down: 13.24 -> 13 in.; 15.25 x 2.54 = 38.735 cm
// -> 38.7.
TEST_CASE("words: a level reads as on a tape and is rounded as asked") {
  CHECK(io::level_text(inches(13.25), Units::us, Toward::up) == "13 1/4 in.");
  CHECK(io::level_text(inches(13.26), Units::us, Toward::up) == "13 1/2 in.");
  CHECK(io::level_text(inches(16.76), Units::us, Toward::up) == "17 in.");
  CHECK(io::level_text(inches(0.7), Units::us, Toward::up) == "3/4 in.");
  CHECK(io::level_text(inches(0), Units::us, Toward::up) == "0 in.");
  CHECK(io::level_text(inches(13.25), Units::si, Toward::up) == "33.7 cm");
  CHECK(io::level_text(inches(13.24), Units::us, Toward::down) == "13 in.");
  CHECK(io::level_text(inches(13.25), Units::us, Toward::down) == "13 1/4 in.");
  CHECK(io::level_text(inches(15.25), Units::si, Toward::down) == "38.7 cm");
}

// Hand derivation: 5.5 x 2.54 = 13.97 cm -> 14; 4.26 in. is 4.2 down, 4.3 nearest and up.
TEST_CASE("words: a depth is rounded as asked") {
  CHECK(io::depth_text(inches(5.5), Units::us, Toward::nearest) == "5.5 in.");
  CHECK(io::depth_text(inches(5.5), Units::si, Toward::nearest) == "14 cm");
  CHECK(io::depth_text(inches(4.26), Units::us, Toward::down) == "4.2 in.");
  CHECK(io::depth_text(inches(4.26), Units::us, Toward::up) == "4.3 in.");
}

// Hand derivation: 1.601 lb/ft2 up to 1.61; x 4.882428 = 7.817, up to 7.9; a limit goes down: 2.2
// x 4.882428 = 10.74 -> 10.7.
TEST_CASE("words: weights go up and limits down, so that no rounding makes a ceiling safe") {
  CHECK(io::weight_text(MassPerArea::from_us(1.601), Units::us, Toward::up) == "1.61 lb/ft2");
  CHECK(io::weight_text(MassPerArea::from_us(1.601), Units::si, Toward::up) == "7.9 kg/m2");
  CHECK(io::weight_text(MassPerArea::from_us(2.2), Units::us, Toward::down) == "2.2 lb/ft2");
  CHECK(io::weight_text(MassPerArea::from_us(2.2), Units::si, Toward::down) == "10.7 kg/m2");
}

// Hand derivation: 1000 ft2 x 0.09290304 = 92.9 m2; 25 lb x 0.45359 = 11.34 kg, nearest
// (up would flatter a bag) or up; 60 ft3 x 0.0283168 = 1.699 m3, up.
TEST_CASE("words: areas, volumes, masses, heat loss and densities carry their units") {
  CHECK(io::area_text(square_feet(1000), Units::us) == "1000 ft2");
  CHECK(io::area_text(square_feet(4.5), Units::us) == "4.5 ft2");
  CHECK(io::area_text(square_feet(1000), Units::si) == "92.9 m2");
  CHECK(io::volume_text(Volume::from_us(60), Units::us) == "60 ft3");
  CHECK(io::volume_text(Volume::from_us(60), Units::si) == "1.7 m3");
  CHECK(io::mass_text(Mass::from_us(25), Units::us, Toward::nearest) == "25 lb");
  CHECK(io::mass_text(Mass::from_us(25), Units::si, Toward::nearest) == "11.3 kg");
  CHECK(io::mass_text(Mass::from_us(25), Units::si, Toward::up) == "11.4 kg");
  CHECK(io::mass_text(Mass::from_us(1050.2), Units::us, Toward::up) == "1051 lb");
  CHECK(io::conductance_text(Conductance::from_us(76.25), Units::us) == "76.3 Btu/(h F)");
  CHECK(io::conductance_text(Conductance::from_us(76.25), Units::si) == "40.3 W/K");  // 40.224, up
  CHECK(io::resistivity_text(r_per_inch(3.5), Units::us) == "R-3.5 per inch");
  CHECK(io::resistivity_text(r_per_inch(3.5), Units::si) == "24.27 m K/W");
  CHECK(io::density_text(Density::from_us(1.6), Units::us) == "1.6 lb/ft3");
  CHECK(io::density_text(Density::from_us(1.6), Units::si) == "25.6 kg/m3");
}

// Common practice: money in whole units, rounded up, in the survey's own currency word.
TEST_CASE("words: money goes up to whole units") {
  CHECK(io::money_text(1234.05, "USD") == "1235 USD");
  CHECK(io::money_text(1234, "") == "1234");
  CHECK(io::money_text(1234, "$") == "$1234");
}

// Hand derivation: places are filled in turn; three figures or so for a plain number.
TEST_CASE("words: places of a template are filled with values in the units asked for") {
  const Values values = {{"weight", MassPerArea::from_us(1.6)},
                         {"share", 23.456},
                         {"gap", inches(0.75)},
                         {"limit", std::string("headroom")}};
  const auto text = [&](std::string_view row, Units units) {
    std::string out = "> ";
    io::render(out, row, values, units);
    return out;
  };
  CHECK(text("no places", Units::us) == "> no places");
  CHECK(text("{weight} and {gap}, {share}.", Units::us) == "> 1.6 lb/ft2 and 0.75 in., 23.5.");
  CHECK(text("{weight} and {gap}", Units::si) == "> 7.9 kg/m2 and 1.9 cm");
  CHECK(text("{share} percent by {limit}", Units::us) == "> 23.5 percent by headroom");
  CHECK(text("a gap of {gap}. Next", Units::us) == "> a gap of 0.75 in. Next");
  CHECK(text("{other} {", Units::us) == "> (not known) {");
}

// Hand derivation: a weight of 2.931 lb/ft2 goes up to 2.94 as in the table of the report, its
// limit of 2.209 down; in SI 2.2 x 4.882428 = 10.741 kg/m2, as a limit 10.7, as a load 10.8. A step
// of 0.25 in. is 0.635 cm and no round figure.
TEST_CASE(
    "words: a weight in a template goes up and its limit down, and a small length keeps its "
    "places") {
  const auto text = [](MassPerArea weight, MassPerArea limit, Units units) {
    std::string out;
    io::render(out, "{weight}, {limit}, {step}",
               {{"weight", weight}, {"limit", limit}, {"step", inches(0.25)}}, units);
    return out;
  };
  CHECK(text(MassPerArea::from_us(2.931), MassPerArea::from_us(2.209), Units::us) ==
        "2.94 lb/ft2, 2.2 lb/ft2, 0.25 in.");
  CHECK(text(MassPerArea::from_us(2.2), MassPerArea::from_us(2.2), Units::si) ==
        "10.8 kg/m2, 10.7 kg/m2, 0.635 cm");
}

// Hand derivation: 0.61 x 0.176110 = 0.1074, down to 0.107; R-2 and above keep one place.
TEST_CASE("words: the small R of films and boards keeps a place more in a template") {
  const Values values = {{"film", r_value(0.61)}, {"batt", r_value(19)}};
  std::string us;
  io::render(us, "{film}, {batt}", values, Units::us);
  CHECK(us == "R-0.61, R-19");
  std::string si;
  io::render(si, "{film}, {batt}", values, Units::si);
  CHECK(si == "RSI 0.107 m2 K/W, RSI 3.34 m2 K/W");
}

// Invariant: a survey's text is a value and never a template.
TEST_CASE("words: braces in a survey's text are not filled") {
  const Values values = {{"a", std::string("{b}")}, {"b", 1.0}};
  std::string out;
  io::render(out, "{a}", values, Units::us);
  CHECK(out == "{b}");
}

// Hand derivation: inch -> cm by 2.54, other quantities by their SI factor; text has no number.
TEST_CASE("words: the plain number of a value is in the unit that the words use") {
  CHECK(io::plain_number(inches(2), Units::us) == 2.0);
  CHECK(*io::plain_number(inches(2), Units::si) == doctest::Approx(5.08).epsilon(1e-12));
  CHECK(*io::plain_number(Mass::from_us(1), Units::si) ==
        doctest::Approx(0.45359237).epsilon(1e-12));
  CHECK(io::plain_number(0.05, Units::si) == 0.05);
  CHECK_FALSE(io::plain_number(std::string("2x6"), Units::us).has_value());
}

// Invariant: the words of the result format, which scripts rely on.
TEST_CASE("words: enumerations have the words of the result format") {
  CHECK(io::word(SectionKind::decked) == "decked");
  CHECK(io::word(Basis::effective) == "effective");
  CHECK(io::word(TopUpStatus::not_applicable) == "not-applicable");
  CHECK(io::word(TopUpStatus::unreachable) == "unreachable");
  CHECK(io::word(CautionLevel::fix_first) == "fix-first");
  CHECK(io::word(LimitedBy::nothing).empty());
  CHECK(io::word(LimitedBy::chart) == "chart");
  CHECK(io::word(Form::wood) == "wood");
}

// Invariant: nothing that steers a terminal or turns the direction of text gets through; letters
// do.
TEST_CASE("printable: controls, direction marks and bad UTF-8 are shown as codes") {
  CHECK(printable("plain {text} \\ caf\xC3\xA9") == "plain {text} \\ caf\xC3\xA9");
  CHECK(printable("a\x1b[2Jb\nc\x7f") == "a\\x1B[2Jb\\x0Ac\\x7F");
  CHECK(printable("\xC2\x85") == "\\u{0085}");
  CHECK(printable("\xE2\x80\xAE\xE2\x81\xA6\xE2\x80\x8F\xE2\x80\xA8") ==
        "\\u{202E}\\u{2066}\\u{200F}\\u{2028}");
  CHECK(printable("\xE2\x80\x8B\xEF\xBB\xBF\xC2\xAD\xF3\xA0\x81\x81") ==
        "\\u{200B}\\u{FEFF}\\u{00AD}\\u{E0041}");
  CHECK(printable("\xFFz\xE2\x80") == "\\xFFz\\xE2\\x80");
}

// Source: edit distance as Levenshtein counts it: one for each letter put in, left out or changed;
// kitten to sitting is the usual example, 3.
TEST_CASE("words: edit distance") {
  CHECK(edit_distance("kitten", "sitting") == 3);
  CHECK(edit_distance("abc", "ab") == 1);
  CHECK(edit_distance("ab", "abc") == 1);
  CHECK(edit_distance("abc", "adc") == 1);
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("abc", "") == 3);
  CHECK(edit_distance("abc", "abc") == 0);
}
