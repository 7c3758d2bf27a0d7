// SPDX-License-Identifier: MIT
// Sections of every kind through `evaluate`: slopes, knee walls, lids, side attics, and the wedge
// at the eave.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

/// 260 ft2 of slope, 2x6 at 24 in., 1 in. kept free, hollow.
Section slope() {
  Section s = flat_section();
  s.name = "slope";
  s.kind = SectionKind::slope;
  s.area = square_feet(260);
  s.joists->spacing = inches(24);
  s.vent_gap = inches(1);
  return s;
}

/// 100 ft2 of knee wall, 2x4 at 16 in., half-inch gypsum and half-inch plywood, an R-11 batt of 3.5
/// in.
Section knee_wall() {
  Section s = flat_section();
  s.name = "knee wall";
  s.kind = SectionKind::knee_wall;
  s.area = square_feet(100);
  s.joists->size = "2x4";
  s.deck = Board{"plywood-1/2", {}, {}};
  s.layers = {batt_of(11, 3.5)};
  return s;
}

/// 1,000 ft2 of bare floor without joists, 40 ft of eaves under a 6 in 12 roof, 5 in. of room over
/// the plate.
Section floor_with_eave() {
  Section s = loose_section({0, 0, 0, 0, 0});
  s.joists->framing_fraction = 0.0;
  s.eave = EaveSurvey{inches(5 + std::sqrt(1.25)),
                      6.0,
                      inches(480),
                      inches(1),
                      {}};  // a gap of 1 in. square to the deck is sqrt(1.25) upright
  return s;
}

}  // namespace

// Hand derivation: 5.5 - 1 = 4.5 in. fit; 3.5 per inch gives 15.75 working. Films and gypsum 1.52,
// wood up to the surface of the fill (a gap is kept): 1/(0.0625/(1.52 + 1.25·4.5) + 0.9375/17.27)
// = 15.8650. Found: hollow, 1.52 in both paths. 4 lb/ft3·4.5/12 = 1.5 lb/ft2 of
// cavity, 1.5·260·0.9375 = 365.625 lb. R-49 is missed by 33.25. Exact sums.
TEST_CASE("kinds: a slope takes what fits and says what does not") {
  const Evaluation e = run(survey_of({slope()}, 38, 49));
  const WholeSection s = section_of(e);
  near(s.existing.effective_r.us(), 1.52, kNoise);
  near(s.high.working_r.us(), 15.75, kNoise);
  near(s.high.effective_r.us(), 1 / (0.0625 / 7.145 + 0.9375 / 17.27), kNoise);
  CHECK(s.high.status == TopUpStatus::unreachable);
  CHECK(s.high.limited_by == LimitedBy::cavity);
  REQUIRE(s.cavity.has_value());
  near(s.cavity->added.us(), 4.5, kNoise);
  near(s.cavity->added_weight->us(), 1.5, kNoise);
  near(s.cavity->added_mass->us(), 365.625, 1e-6);
  near(s.high.short_by.us(), 49 - 15.75, kNoise);
  CHECK_FALSE(s.high.bags.has_value());
  CHECK(assumes(e, "cavity-fill"));
  near(e.planned.high.attic.ua.us(), 260 * (0.0625 / 7.145 + 0.9375 / 17.27), 1e-6);
}

// Hand derivation: filled whole, the deck touches the rafters: wood counts all 5.5 in. in both
// paths; found hollow, the joist path is 1.52 + 6.875 = 8.395 and the bay 1.52. Then 19.25 working,
// 1/(0.0625/8.395 + 0.9375/20.77).
TEST_CASE("kinds: a slope without a gap counts its rafters whole") {
  Section s = slope();
  s.vent_gap = Length{};
  const Evaluation e = run(survey_of({s}));
  near(e.sections[0].existing.effective_r.us(), 1 / (0.0625 / 8.395 + 0.9375 / 1.52), kNoise);
  near(e.planned.high.sections[0].working_r.us(), 19.25, kNoise);
  near(e.planned.high.sections[0].effective_r.us(), 1 / (0.0625 / 8.395 + 0.9375 / 20.77), kNoise);
  CHECK(raises(e, "slope-unvented"));
}

// Hand derivation: a sound R-11 batt of 3.5 in. stays, 1 in. is left of 4.5: dense pack adds 3.5.
// Marked to come out, all 4.5 in. are packed.
TEST_CASE("kinds: what is sound in a slope stays and only the room that is left is filled") {
  Section s = slope();
  s.layers = {batt_of(11, 3.5)};
  const WholeSection kept = section_of(run(survey_of({s})));
  near(kept.cavity->kept.us(), 3.5, kNoise);
  near(kept.high.working_r.us(), 14.5, kNoise);
  s.layers[0].condition = Condition::remove;
  const WholeSection out = section_of(run(survey_of({s})));
  near(out.cavity->kept.us(), 0, kNoise);
  near(out.high.working_r.us(), 15.75, kNoise);
  CHECK(out.removals.size() == 1);
}

// Common practice: R-19 for a knee wall. Hand derivation: R-11 is short of it by 8; R-10 of board
// across the studs gives 21 working and, both films 0.68, gypsum 0.45, plywood 0.63, studs 1.25·3.5
// whole behind the backing: 1/(0.09375/(2.44 + 4.375 + 10) + 0.90625/(2.44 + 21)). The plywood row
// is R 0.625 = 0.5·1.25 or its printed 0.63: 0.01 of R is allowed for that.
TEST_CASE("kinds: a knee wall aims at R-19 and meets it with a board") {
  const Evaluation bare = run(survey_of({knee_wall()}));
  near(bare.planned.high.sections[0].target_r.us(), 19, kNoise);
  near(bare.sections[0].existing.working_r.us(), 11, kNoise);
  CHECK(bare.planned.high.sections[0].status == TopUpStatus::unreachable);
  near(bare.planned.high.sections[0].short_by.us(), 8, kNoise);
  CHECK(assumes(bare, "knee-wall-target"));
  Section s = knee_wall();
  s.continuous_r = r_value(10);
  const WholeSection with = section_of(run(survey_of({s})));
  CHECK(with.high.status == TopUpStatus::needed);
  near(with.high.working_r.us(), 21, kNoise);
  near(with.high.effective_r.us(), 1 / (0.09375 / (2.44 + 4.375 + 10) + 0.90625 / (2.44 + 21)),
       0.01);
  s.target_r = r_value(25);
  near(run(survey_of({s})).planned.high.sections[0].short_by.us(), 4, kNoise);
}

// Hand derivation: an R-21 batt of 5.5 in. pressed into 3.5 in. of stud: 15.26 by the law of eq.
// 2, 15.05 by its bound of 4.3 per inch (the label table has 15); a board of 4 in. does not fit and
// nothing goes in.
TEST_CASE("kinds: a thick batt is squeezed into a wall and a thick board stays out") {
  Section s = knee_wall();
  s.layers = {};
  s.add = batt_of(21, 5.5);
  const WholeSection squeezed = section_of(run(survey_of({s})));
  near(squeezed.high.working_r.us(), 4.3 * 3.5, kNoise);
  s.add = layer_of("xps-board");
  s.add->thickness = inches(4);
  const WholeSection out = section_of(run(survey_of({s})));
  near(out.cavity->added.us(), 0, kNoise);
  near(out.high.working_r.us(), 0, kNoise);
}

// Invariant: over rooms without heat nothing is saved, so nothing is added and nothing is in UA,
// whatever the kind.
TEST_CASE("kinds: nothing is added above a garage") {
  for (Section s : {slope(), knee_wall(), loose_section({5, 5})}) {
    s.below = Below::unheated;
    const Evaluation e = run(survey_of({s, loose_section({5, 5, 5})}));
    CHECK(e.planned.high.sections[0].status == TopUpStatus::not_applicable);
    CHECK_FALSE(e.sections[0].cavity.has_value());
    near(e.attic.area.us(), 1000, kNoise);
  }
}

// Invariant: a side-attic floor is blown like any floor, and a stair is a lid: same numbers under
// another name.
TEST_CASE("kinds: side attics and stairs follow the rules of floors and hatches") {
  Section floor = loose_section({3, 4, 5});
  const WholeSection flat = section_of(run(survey_of({floor})));
  floor.kind = SectionKind::side_attic_floor;
  const WholeSection side = section_of(run(survey_of({floor})));
  CHECK(side.high.initial_level->us() == flat.high.initial_level->us());
  CHECK(*side.high.bags == *flat.high.bags);
  Section lid = hatch_section(9, 4);
  lid.kind = SectionKind::pull_down_stair;
  const Evaluation e = run(survey_of({lid, floor}));
  near(e.sections[0].existing.effective_r.us(), 4, kNoise);
  CHECK(raises(e, "hatch-below-attic"));
}

// Hand derivation: 2.8 R per blown inch (3.5, settling 20 %), so R-49 at L = 17.5. Room over the
// plate 5 in., rising 0.5 in. an inch: the strip is (17.5 - 5)/0.5 = 25 in. wide, 25/12·40 = 83.333
// ft2, share w = 0.083333. Heat runs along arcs, atan(0.5)/0.5 = 0.9272952 of the upright way: ρ =
// 2.596427. Its U = ln((1.52 + 17.5ρ)/(1.52 + 5ρ))/(0.5·ρ·25) = 0.0362020, so 26.103 working; whole
// floor 1/((1 - w)/50.52 + w·0.0362020) - 1.52. Bags at full depth 1000·14/12·2/25
// = 93.333; the strip's mean depth is (5 + 17.5)/2 = 11.25, so w·93.333·(1 - 11.25/17.5) = 2.7778
// find no room. Below R-49 lies the whole strip.
TEST_CASE("eave: the wedge takes its share of R and bags, in closed form") {
  const Evaluation e = run(survey_of({floor_with_eave()}, 38, 49));
  const TopUp& t = e.planned.high.sections[0];
  CHECK(t.initial_level->us() == 17.5);
  REQUIRE(t.eave.has_value());
  const double w = 25.0 / 12 * 40 / 1000, rho = 2.8 * std::atan(0.5) / 0.5;
  const double u = std::log((1.52 + 17.5 * rho) / (1.52 + 5 * rho)) / (0.5 * rho * 25);
  near(u, 0.0362020, 0.00000005);
  near(t.eave->width.us(), 25, kNoise);
  near(t.eave->area.us(), w * 1000, 1e-6);
  near(t.eave->working_field.us(), 49, 1e-6);
  near(t.eave->working_wedge.us(), 1 / u - 1.52, 1e-6);
  near(t.working_r.us(), 1 / ((1 - w) / 50.52 + w * u) - 1.52, 1e-6);
  near(*t.eave->bags_less, w * 1000 * 14 / 12 * 2 / 25 * (1 - 11.25 / 17.5), 1e-6);
  near(*t.bags_exact, (1000.0 * 14 / 12 * 2 / 25) * (1 - w * (1 - 11.25 / 17.5)), 1e-6);
  near(t.eave->met_from->us(), 25, 1e-6);
  near(*t.eave->share_short, w, 1e-6);
  near(t.eave->ua_added.us(), w * 1000 * (u - 1 / 50.52), 1e-6);
  near(e.planned.high.attic.ua.us(), 1000 * ((1 - w) / 50.52 + w * u), 1e-6);
  CHECK(raises(e, "eave-short"));
}

// Hand derivation: a heel of 0 less gap 1 and baffle 2, each sqrt(1.25) upright: the room begins
// 3·sqrt(1.25)/0.5 in. inside.
TEST_CASE("eave: a low heel leaves the edge bare and a high one has no wedge") {
  Section s = floor_with_eave();
  s.eave->heel = Length{};
  s.eave->baffle = inches(2);
  near(run(survey_of({s})).planned.high.sections[0].eave->bare_width.us(), 6 * std::sqrt(1.25),
       kNoise);
  s.eave->heel = inches(21);
  CHECK_FALSE(run(survey_of({s})).planned.high.sections[0].eave.has_value());
}

// Invariant: with a chart, several readings and joists the wedge only ever takes R and bags away,
// and never below the strip's own worth.
TEST_CASE("eave: the whole floor lies between the strip and the field") {
  Section s = loose_section({0, 3, 5, 6});
  s.eave = EaveSurvey{inches(5), 5.0, inches(600), {}, {}};
  for (const Survey& survey : {survey_of({s}), with_chart(survey_of({s}))}) {
    const Evaluation e = run(survey);
    const TopUp& t = e.planned.low.sections[0];
    REQUIRE(t.eave.has_value());
    CHECK(t.working_r < t.eave->working_field);
    CHECK(t.working_r > t.eave->working_wedge);
    CHECK(*t.eave->bags_less > 0);
    CHECK(t.working_r_range->low <= t.working_r);
    CHECK(*t.working_r_range->high >= t.working_r);
    CHECK(assumes(e, "eave-as-read"));
  }
}

// Source: ASHRAE/IES 90.1 Table A2.4, standard framing, U .034 for R-30 and .027 for R-38; 5 % of
// the area at half depth, 10 % joists, films 0.61 and 0.46, 0.625 in. gypsum 0.56. Half of the last
// printed digit. 5 of the 90 % of bays are 0.0556 of the readings; R-11 fills 3.5 in.
TEST_CASE("eave: five percent at half depth gives the printed U of the standard's table") {
  for (const auto& [rated, printed] : {std::pair(30.0, 0.034), std::pair(38.0, 0.027)}) {
    Section s = flat_section();
    s.ceiling = Board{"", {}, r_value(0.56)};
    s.joists = Joists{};
    s.joists->size = "2x4";
    s.joists->framing_fraction = 0.10;
    s.layers = {layer_of("table-fill")};
    const double full = rated / (11 / 3.5);
    s.readings = {reading_of(full, 1 - 0.05 / 0.9), reading_of(full / 2, 0.05 / 0.9)};
    Survey survey = survey_of({s});
    Material m;
    m.id = m.name = "table-fill";
    m.typical = r_per_inch(11 / 3.5);
    survey.materials = {m};
    near(1 / run(survey).sections[0].existing.effective_r.us(), printed, 0.0005);
  }
}

// Source: tests/reference/SOURCES.md#slopes: 2, 3 and 4 lb/ft2 for 6, 9 and 12 in. at 4 lb/ft3,
// published, whole digits, so 0.5; and R-19 in 3.5 in. is 14 in the label table, within 1.0 as for
// the law, 13.46 by hand: 3.5/(0.1724 + (6.25/19 - 0.1724)·0.56).
TEST_CASE(
    "kinds: dense pack weighs what the guide prints and a squeezed batt is worth what its label "
    "says") {
  for (const auto& [depth, printed] :
       {std::pair(6.0, 2.0), std::pair(9.0, 3.0), std::pair(12.0, 4.0)}) {
    Section s = slope();
    s.joists->size.clear();
    s.joists->width = inches(1.5);
    s.joists->depth = inches(depth + 1);
    near(run(survey_of({s})).sections[0].cavity->added_weight->us(), printed, 0.5);
  }
  Section s = knee_wall();
  s.layers = {batt_of(19, 6.25)};
  const double found = run(survey_of({s})).sections[0].existing.working_r.us();
  near(found, 14, 1.0);
  near(found, 13.46, 0.005);
}
