// SPDX-License-Identifier: MIT
// What `evaluate` says of whole surveys where parts of the model meet.
#include "overjoist/evaluate.hpp"

#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

const Assumption* assumption(const Evaluation& e, std::string_view code) {
  const auto at =
      std::find_if(e.findings.assumptions.begin(), e.findings.assumptions.end(),
                   [&](const Assumption& a) { return tables().assumptions[a.row].code == code; });
  return at == e.findings.assumptions.end() ? nullptr : &*at;
}

Section with_joists(Section s, const char* size, double spacing) {
  s.joists->size = size;
  s.joists->spacing = inches(spacing);
  return s;
}

}  // namespace

// Hand derivation: 4 in. of cellulose in a 9.25 in. bay, R-19 batt (6.25 in.) across the joist
// tops: the batt's top is at 9.25 + 6.25 = 15.5 in., so new fill is blown from there: level - 15.5
// is the new initial depth at every spot.
TEST_CASE("evaluate: a gap under batts that lie across lifts the surface that is blown on") {
  Section s = with_joists(flat_section(), "2x10", 16);
  s.layers = {layer_of("cellulose-loose"), batt_of(19, 6.25)};
  s.layers[1].lies = Lies::across;
  for (int i = 0; i < 5; ++i) s.readings.push_back(reading_of_layers({4, 6.25}));
  const TopUp t = run(survey_of({s})).planned.low.sections[0];
  near(t.new_depth_initial->mean.us(), t.initial_level->us() - 15.5, kNoise);
  // The same attic read as one depth of 15.5 in., with the fill's thickness given: no reading
  // stands above the layers.
  s.layers[0].thickness = inches(4);
  s.readings = {reading_of(15.5), reading_of(15.5), reading_of(15.5), reading_of(15.5),
                reading_of(15.5)};
  const Evaluation e = run(survey_of({s}));
  CHECK_FALSE(raises(e, "reading-above-layers"));
  CHECK(raises(e, "gap-below-batt"));
  CHECK(e.planned.low.sections[0].initial_level == t.initial_level);
}

// Hand derivation: wet fill of 4 in. under the batt across 2x6 comes out; the batt still lies on
// the joist tops, 5.5 + 6.25 = 11.75 in.
TEST_CASE("evaluate: what lies across stays on the joist tops when the fill below it comes out") {
  Section s = flat_section();
  s.layers = {layer_of("cellulose-loose"), batt_of(19, 6.25)};
  s.layers[0].condition = Condition::wet;
  s.layers[1].lies = Lies::across;
  for (int i = 0; i < 5; ++i) s.readings.push_back(reading_of_layers({4, 6.25}));
  const TopUp t = run(survey_of({s})).planned.low.sections[0];
  near(t.new_depth_initial->mean.us(), t.initial_level->us() - 11.75, kNoise);
}

// Hand derivation: R-11 (3.5 in.) fills a 2x4 bay, so a second batt that says nothing lies on the
// joist tops: joist path 1.52 + 4.375 + 19, bay 1.52 + 30, f = 1.5/16.
TEST_CASE("evaluate: a second batt on a full bay lies across, and the result says so") {
  Section s = with_joists(flat_section(), "2x4", 16);
  s.layers = {batt_of(11, 3.5), batt_of(19, 6.25)};
  for (int i = 0; i < 5; ++i) s.readings.push_back(reading_of(9.75));
  const Evaluation e = run(survey_of({s}));
  const double f = 1.5 / 16, want = 1 / (f / (kEnds + 4.375 + 19) + (1 - f) / (kEnds + 30));
  near(e.sections[0].existing.effective_r.us(), want, kNoise);
  CHECK(assumes(e, "lies-across"));
  CHECK(assumes(e, "lies-between"));
  CHECK_FALSE(raises(e, "batt-thicker-than-joist"));
  // Told that it lies between, the caution comes, with the height of its top.
  s.layers[1].lies = Lies::between;
  CHECK(raises(run(survey_of({s})), "batt-thicker-than-joist"));
}

// Hand derivation: 14 in. at 2 lb/ft3 weighs 2.333 lb/ft2 already, above 2.2: no level is within
// the limit.
TEST_CASE(
    "evaluate: there is no level within the weight limit where the ceiling is over it already, or "
    "the old weight is unknown") {
  const Evaluation heavy = run(survey_of({loose_section({14, 14, 14, 14, 14})}, 49, 60));
  REQUIRE(heavy.planned.high.sections[0].weight_greatest);
  CHECK_FALSE(heavy.planned.high.sections[0].within_weight.has_value());
  CHECK(raises(heavy, "ceiling-weight"));
  Section s = flat_section();
  s.layers = {batt_of(11, 3.5)};
  for (int i = 0; i < 5; ++i) s.readings.push_back(reading_of(3.5));
  const Evaluation unknown = run(survey_of({s}, 49, 60));
  CHECK(unknown.planned.high.sections[0].weight_at_least);
  CHECK_FALSE(unknown.planned.high.sections[0].within_weight.has_value());
  CHECK(raises(unknown, "ceiling-weight-at-least"));
}

// Source: board-industry limits (reference table): 1/2 in. board at 16 in. 2.2 lb/ft2; no figure
// for a thinner board.
TEST_CASE(
    "evaluate: a ceiling that nobody looked at is said to be assumed, and a thinner board has no "
    "limit") {
  Section s = loose_section({4, 4, 4, 4, 4});
  s.ceiling.reset();
  s.joists.reset();
  CHECK(raises(run(survey_of({s})), "ceiling-assumed"));
  CHECK_FALSE(raises(run(survey_of({loose_section({4, 4, 4, 4, 4})})), "ceiling-assumed"));
  Section thin = loose_section({4, 4, 4, 4, 4});
  thin.ceiling->thickness = inches(0.375);
  const Evaluation e = run(survey_of({thin}));
  CHECK_FALSE(e.planned.low.sections[0].weight_limit.has_value());
  CHECK(raises(e, "ceiling-limit-unknown"));
}

// Hand derivation: cleared for the section by person, date and paper: the layer's own stop becomes
// the cleared note.
TEST_CASE(
    "evaluate: a cleared hazard clears what a layer of that place raises, and no other place") {
  Section a = loose_section({4, 4, 4, 4, 4}, "vermiculite");
  a.name = "a";
  Section b = a;
  b.name = "b";
  Survey survey = survey_of({a, b});
  survey.hazards = {{"vermiculite", "a", "laboratory", "2026-05-04", "report 7"}};
  const Evaluation e = run(survey);
  CHECK(e.stopped());
  for (const Caution& c : e.findings.cautions)
    if (tables().cautions[c.row].code == "vermiculite")
      CHECK((c.cleared ? c.where == "a" : c.where == "b"));
  survey.hazards[0].where.clear();  // the whole attic
  CHECK_FALSE(run(survey).stopped());
}

// Hand derivation: a bare floor has working R 0 exactly, not a rounding error below it.
TEST_CASE("evaluate: a bare floor has a working R of 0") {
  const ExistingResult r = run(survey_of({loose_section({0, 0, 0, 0, 0})})).sections[0].existing;
  CHECK(r.working_r.us() == 0.0);
  CHECK_FALSE(std::signbit(r.working_r.us()));
}

// Symptom: a step of -2e-15. Hand derivation: soiled fill counts nothing, so from that step on R is
// 0 to the last bit, whatever its depths.
TEST_CASE("evaluate: where all that lies there counts nothing no step falls below 0") {
  Section s = loose_section({0, 11.25, 10.75, 10.75, 0}, "vermiculite");
  s.layers[0].condition = Condition::soiled;
  const ExistingResult r = run(survey_of({s})).sections[0].existing;
  for (const LossStep& step : r.steps)
    if (step.code == "wet" || step.code == "uneven" || step.code == "bare")
      CHECK(step.after.us() == 0.0);
}

// Source: IECC R301.3(2) asks for both degree-day figures.
TEST_CASE("evaluate: one degree-day figure alone gives no zone, and the result says why") {
  Survey survey = survey_of({loose_section({4, 4, 4, 4, 4})});
  survey.target = {};
  survey.site.hdd65_f_day = 6000;
  const Evaluation e = run(survey);
  CHECK(e.target.zone.empty());
  CHECK(assumes(e, "degree-days-half"));
}

// Hand derivation: found bare (total R 1.7 against 49), planned 49: the caution names what was
// found, the plan is an assumption.
TEST_CASE("evaluate: a hatch is judged as found, and its plan is listed") {
  Section hatch = hatch_section(5, 1.7);
  hatch.after_insulation_r = r_value(49);
  Survey survey = survey_of({loose_section({4, 4, 4, 4, 4}), hatch});
  const Evaluation e = run(survey);
  CHECK(raises(e, "hatch-below-attic"));
  REQUIRE(assumption(e, "hatch-plan"));
  CHECK_FALSE(raises(e, "hatch-plan-lower"));
}

// Hand derivation: with every room below unheated there is nothing to save: no area, no UA, no
// bags.
TEST_CASE("evaluate: an attic over unheated rooms only has no heat loss of its own") {
  Section s = loose_section({4, 4, 4, 4, 4});
  s.below = Below::unheated;
  const Evaluation e = run(survey_of({s}));
  CHECK(e.attic.area.us() == 0.0);
  CHECK(e.planned.low.sections[0].status == TopUpStatus::not_applicable);
  CHECK(e.planned.low.totals.bags == 0.0);
}

// Hand derivation: as asked for, zone 6 as told; zone 0 counts as 1.
TEST_CASE("evaluate: a zone that was told stays in the result beside a target of one's own") {
  Survey survey = survey_of({loose_section({4, 4, 4, 4, 4})}, 30, 40);
  survey.site.climate_zone = "6B";
  CHECK(run(survey).target.zone == "6");
  CHECK(run(survey).target.low.us() == 30);
  survey.site.climate_zone = "0A";
  CHECK(run(survey).target.zone == "1");
}
