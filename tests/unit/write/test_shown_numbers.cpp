// SPDX-License-Identifier: MIT
// Numbers as people read them: no rounding that lies, no minus that is called saved, one figure for
// one job.
#include <doctest/doctest.h>

#include <sstream>
#include <string>

#include "fixtures.hpp"
#include "overjoist/report.hpp"
#include "words/words.hpp"

using namespace fixtures;
using io::Toward;

namespace {

std::string flowing(const std::string& text) {
  std::istringstream words(text);
  std::string out, word;
  while (words >> word) out += (out.empty() ? "" : " ") + word;
  return out;
}

std::string text_of(const Evaluation& e, Units units = Units::us) {
  std::string out;
  write_text(out, e, tables(), {units, false});
  return flowing(out);
}

std::string page_of(const Evaluation& e) {
  std::string out;
  write_html(out, e, tables(), Units::us);
  return flowing(out);
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

Section slope() {
  Section s = flat_section();
  s.name = "slopes";
  s.kind = SectionKind::slope;
  s.joists->spacing = inches(24);
  return s;
}

/// Old fill out of a deck's bays, and batts that do not go under it.
Survey worse() {
  Section deck = loose_section({7, 7, 7});
  deck.kind = SectionKind::decked;
  deck.deck = Board{"plywood-1/2", {}, {}};
  deck.layers[0].condition = Condition::remove;
  Survey s = priced_with_gas(survey_of({deck}));
  s.proposal->material.clear();
  s.proposal->price_per_bag.reset();
  s.proposal->bag_net.reset();
  s.proposal->batts = {BattProduct{
      "batt", "glass-fiber-batt", inches(10), r_value(30), square_feet(50), {}, 80.0, false}};
  s.cooling = Cooling{3.0, 0.2, {}, 900.0};
  return s;
}

}  // namespace

// Symptom: 3.25 in. read "3.2 in." and 6.25 in. "6.3 in.". Hand derivation: eighths are what a rule
// shows and stay whole, as half millimetres do; anything else is rounded as asked; 2.2e-16 in. is
// 0; 3.25 cm is 3.25/2.54 in.
TEST_CASE("shown numbers: what a rule can show stays whole") {
  CHECK(io::depth_text(inches(3.25), Units::us, Toward::down) == "3.25 in.");
  CHECK(io::depth_text(inches(6.25), Units::us, Toward::up) == "6.25 in.");
  CHECK(io::depth_text(inches(3.125), Units::us, Toward::nearest) == "3.125 in.");
  CHECK(io::depth_text(inches(9.5), Units::us, Toward::down) == "9.5 in.");
  CHECK(io::depth_text(inches(3.3), Units::us, Toward::up) == "3.3 in.");
  CHECK(io::depth_text(inches(2.2e-16), Units::us, Toward::up) == "0 in.");
  CHECK(io::depth_text(inches(-2.2e-16), Units::si, Toward::down) == "0 cm");
  CHECK(io::depth_text(inches(3.25 / 2.54), Units::si, Toward::down) == "3.25 cm");
  CHECK(io::depth_text(inches(6.25), Units::si, Toward::up) == "15.9 cm");
  std::string out;
  io::append_value(out, inches(3.125), Units::us);
  CHECK(out == "3.125 in.");
}

// Symptom: a target of RSI 6.69 read "R-37.9", one of R-49 "RSI 8.62", a batt of R-6.25 "R-6.2".
// Hand derivation: 6.69 x 5.678 = 37.99, 49 x 0.17611 = 8.629: what is given is rounded to the
// nearest, what is worked out still goes down.
TEST_CASE("shown numbers: a converted target is rounded, not cut") {
  CHECK(io::r_given(Resistance::from_si(6.69), Units::us) == "R-38");
  CHECK(io::r_given(Resistance::from_si(6.69), Units::si) == "RSI 6.69 m2 K/W");
  CHECK(io::r_given(r_value(49), Units::si) == "RSI 8.63 m2 K/W");
  CHECK(io::r_given(r_value(6.25), Units::us) == "R-6.25");
  CHECK(io::r_given(r_value(37.59), Units::us) == "R-37.59");
  CHECK(io::r_given(r_value(38), Units::us) == "R-38");
  CHECK(io::r_given(Resistance::from_si(3.335), Units::si) == "RSI 3.335 m2 K/W");
  CHECK(io::r_given_cell(Resistance::from_si(6.69), Units::us) == "R-38.0");
  CHECK(io::r_given_cell(r_value(49), Units::si) == "RSI 8.63");
  CHECK(io::r_label(r_value(37.99), Units::us) == "R-37.9");
  std::string out;
  io::render(out, "{target} and {best}",
             {{"target", Resistance::from_si(6.69)}, {"best", Resistance::from_si(6.69)}},
             Units::us);
  CHECK(out == "R-38 and R-37.9");
}

// Symptom: the whole report of a metric survey spoke of a target of. Invariant: no part of
// it does.
TEST_CASE("shown numbers: a metric target stands as asked in every part of a report") {
  Survey s = priced_with_gas(survey_of({loose_section({4, 5, 6})}));
  s.target = {Resistance::from_si(6.69), Resistance::from_si(8.63), Basis::working};
  const std::string out = text_of(run(s));
  CHECK(has(out, "You want R-38 to R-49 "));
  CHECK(has(out, "target (working) R-38.0 R-49.0"));
  CHECK(has(out, "R-38, low "));
  CHECK_FALSE(has(out, "R-48.9"));
}

// Symptom: "2212 more readings like these". Common practice: nobody takes more than 60
// (data/bypasses.json); the bare area is measured.
TEST_CASE("shown numbers: never more than 60 more readings") {
  const Evaluation wild = run(survey_of({loose_section({0, 1, 12})}));
  CHECK_FALSE(wild.sections[0].existing.readings_needed);
  CHECK_FALSE(wild.sections[0].existing.readings_more);
  CHECK(wild.sections[0].existing.measure_bare);
  CHECK(has(text_of(wild), "Measure the bare area."));
  CHECK_FALSE(has(text_of(wild), "more readings on the fill"));
  Section floor = loose_section({5, 6, 7, 6});
  const Evaluation unmeasured = run(survey_of({floor}));
  REQUIRE(unmeasured.sections[0].existing.readings_more);
  const std::string more =
      std::to_string(*unmeasured.sections[0].existing.readings_more) + " more readings on the fill";
  CHECK(has(text_of(unmeasured), "Measure the bare area first, then take " + more));
  floor.bare_share = 0.0;
  const Evaluation mild = run(survey_of({floor}));
  CHECK_FALSE(mild.sections[0].existing.measure_bare);
  CHECK(has(text_of(mild), more + " would bring its U within 5 %."));
}

// Symptom: the slopes' saving stood beside the floor's cost without a word. Invariant: answer,
// table, steps, page and JSON say so.
TEST_CASE("shown numbers: what has no price is said wherever a payback stands") {
  const Evaluation e = run(priced_with_gas(survey_of({loose_section({10, 10, 11}), slope()})));
  const std::string words = "without the slopes: their work has no price", text = text_of(e),
                    page = page_of(e);
  CHECK(has(text, "(" + words + ")."));
  CHECK(has(text, "Cost, payback and SIR are " + words));
  CHECK(has(text, "All rows are " + words));
  CHECK(has(text, "saving set against it"));
  CHECK(has(page, "years, " + words));
  CHECK(has(page, "All steps are " + words));
  std::string json;
  write_json(json, e, tables(), {});
  CHECK(has(json, "\"unpriced_sections\":[\"slopes\"]"));
  CHECK_FALSE(
      has(text_of(run(priced_with_gas(survey_of({loose_section({10, 10, 11})})))), "no price"));
}

// Symptom: two slopes, one of them priced, were both said to have no price. Hand derivation: only
// the other is named.
TEST_CASE("shown numbers: where some of a kind have a price the others are named") {
  Section east = slope();
  east.name = "east";
  Survey s = priced_with_gas(survey_of({loose_section({10, 10, 11}), slope(), east}));
  s.proposal->extras = {{"dense pack", 900, {}, {"slopes"}}};
  CHECK(has(text_of(run(s)), "without the slopes (east): their work has no price"));
}

// Symptom: "money saved $-43", "worth today $-838", "-12 to -6 kWh". Invariant: no minus in text,
// page or CSV; JSON keeps the figure.
TEST_CASE("shown numbers: a loss is never called saved") {
  const Evaluation e = run(worse());
  REQUIRE(e.planned.high.totals.worse);
  const std::string text = text_of(e), page = page_of(e);
  CHECK(has(text, "money saved none none"));
  CHECK(has(text, "The plan leaves the attic worse than found: nothing is saved"));
  for (const std::string& out : {text, page})
    for (const char* minus : {"saved -", "$-", "Saves -", " -4", "to -"})
      CHECK_MESSAGE(!has(out, minus), minus);
  std::string csv, json;
  write_csv(csv, e, tables(), {}, {});
  CHECK(has(csv, ",yes,yes,"));
  CHECK_FALSE(has(csv, ",-"));
  write_json(json, e, tables(), {});
  CHECK(has(json, "\"worse\":true"));
  CHECK(has(json, "\"annual_saving\":-"));
}

// Symptom: card $2132, steps $1943. Hand derivation: the package holds 60 of safety beside the
// measure; the card says both, and steps and table show the measure's.
TEST_CASE("shown numbers: card, table and steps show the same cost") {
  Survey s = priced_with_gas(survey_of({loose_section({4, 5, 4})}, 49, 49));
  s.proposal->currency = "$";
  s.proposal->extras = {{"covers", 60, CostPart::safety}};
  const Evaluation e = run(s);
  const std::string all = io::money_text(*e.planned.high.totals.cost, "$"),
                    measure = io::money_text(*e.planned.high.totals.measure.cost, "$");
  const std::string text = text_of(e), page = page_of(e);
  CHECK(has(text, "Cost: " + all + ", of it the insulation " + measure + "."));
  CHECK(has(text, "insulation measure, cost " + measure));
  CHECK(has(page, "Cost: " + all + ", of it the insulation " + measure));
  CHECK(has(page, "costs " + measure + " so far"));
  CHECK(has(text, "Rows are differences"));
}

// Symptom: a compared row said that it does not fit, not where. Invariant: the section that stops
// it is named.
TEST_CASE("shown numbers: what limits a compared row names its section") {
  Section deck = loose_section({3, 3, 3});
  deck.name = "deck";
  deck.area = square_feet(200);
  deck.kind = SectionKind::decked;
  deck.deck = Board{"plywood-1/2", {}, {}};
  Survey s = survey_of({loose_section({4, 5, 4}), deck});
  Proposal rock;
  rock.material = "rock-wool-loose";
  s.compare = {rock};
  const Evaluation e = run(s);
  REQUIRE(e.compare.size() == 2);
  for (const CompareRow& row : e.compare) {
    CHECK(row.ends.high.limited_by == LimitedBy::deck);
    CHECK(row.ends.high.limited_section == "deck");
  }
  CHECK(has(text_of(e), "does not fit in deck (deck)"));
}
