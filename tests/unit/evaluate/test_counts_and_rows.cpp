// SPDX-License-Identifier: MIT
// Counts of the plan, rows of a comparison, and limits of a blow, each by its own figures.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "fixtures.hpp"
#include "overjoist/leakage.hpp"

using namespace fixtures;

namespace {

Section named(Section s, const std::string& name, double area_ft2) {
  s.name = name;
  s.area = square_feet(area_ft2);
  return s;
}

Hazard seen(const std::string& kind) { return {kind, "north", "", "", ""}; }
Hazard cleared(const std::string& kind) {
  return {kind, "north", "A. Reader", "2026-05-04", "note 3"};
}

BattProduct product(const std::string& name, double r, double thickness_in,
                    std::optional<double> price = 60.0) {
  BattProduct p;
  p.name = name;
  p.label_r = r_value(r);
  p.thickness = inches(thickness_in);
  p.coverage = square_feet(50);
  p.package_weight = Mass::from_us(25);
  p.price = price;
  return p;
}

/// 5.5 in. of even cellulose, R-19.25, under a list.
Survey laid(std::vector<BattProduct> list, double low, double high) {
  Survey s = survey_of({loose_section({5.5, 5.5, 5.5})}, low, high);
  s.proposal = Proposal{};
  s.proposal->batts = std::move(list);
  s.proposal->waste_percent = 0.0;
  return s;
}

}  // namespace

// Invariant: what was seen and not counted is not known; what nobody saw is none; what is cleared
// on paper holds no count back.
TEST_CASE("counts: a hazard that was seen leaves its own count open, and no other") {
  Survey s = survey_of({loose_section({4, 4})});
  CHECK(run(s).planned.high.counts.light_covers == 0);
  CHECK(run(s).planned.high.counts.flue_dams == 0);
  s.hazards = {seen("flue")};
  CHECK_FALSE(run(s).planned.high.counts.flue_dams);
  CHECK_FALSE(run(s).planned.high.counts.dams);
  CHECK(run(s).planned.high.counts.light_covers == 0);
  s.hazards = {seen("non-ic-light")};
  CHECK(run(s).planned.high.counts.flue_dams == 0);
  CHECK_FALSE(run(s).planned.high.counts.light_covers);
  s.hazards = {cleared("non-ic-light"), cleared("chimney")};
  CHECK(run(s).planned.high.counts.light_covers == 0);
  CHECK(run(s).planned.high.counts.flue_dams == 0);
}

// Hand derivation: dams: one lid, three flues and chimneys (2 and, without a count, 1), one
// platform, one open edge: 6. Lights 4, boxes 2 and 1. 1,000 ft2 over 300 ft2 are 4 markers. Flue
// dams stand 4 in. above the level (data/bypasses.json).
TEST_CASE("counts: dams, covers, flags and markers add up") {
  Section floor = loose_section({4, 4});
  floor.patches = {Patch{"platform", square_feet(12), {}, "furnace"},
                   Patch{"light-cover", square_feet(1), {}, "hall"}};
  floor.bypasses = {{"flue", "a", 2, {}, {}, {}},
                    {"masonry-chimney", "b", 0, inches(96), {}, {}},
                    {"recessed-light-non-ic", "c", 4, {}, {}, {}},
                    {"ceiling-box", "d", 2, {}, {}, {}},
                    {"ceiling-box", "e", 0, {}, {}, {}}};
  Section met = named(loose_section({20, 20}), "met", 200);
  Survey s = survey_of({floor, met, hatch_section(6, 3)}, 49, 49);
  const Evaluation e = run(s);
  const PlanCounts& c = e.planned.high.counts;
  CHECK(c.dams == 6);
  CHECK(c.flue_dams == 3);
  CHECK(c.edge_dams == 1);
  CHECK(c.light_covers == 4);
  CHECK(c.flags == 3);
  CHECK(c.markers == 4);
  CHECK(c.dam_height == *e.planned.high.sections[0].initial_level);
  near(c.flue_dam_height.us(), e.planned.high.sections[0].initial_level->us() + 4, kNoise);
  near(c.lid_board.us(), 6, kNoise);
  near(c.weatherstrip_ft, 4 * std::sqrt(6.0) * 1.1, 1e-9);  // rim of a square of 6 ft2, and 10 %
}

// Invariant: where nothing is blown there is nothing to dam or mark, at that end of the band alone.
TEST_CASE("counts: an end of the band that blows nothing needs no edge, marker or dam") {
  Survey s = survey_of(
      {named(loose_section({12, 12}), "nearly", 1000), named(loose_section({20, 20}), "met", 200)},
      38, 49);
  const Evaluation e = run(s);  // R-42 meets 38 and not 49
  CHECK(e.planned.low.counts.edge_dams == 0);
  CHECK(e.planned.low.counts.markers == 0);
  CHECK(e.planned.low.counts.dam_height == Length{});
  CHECK(e.planned.low.counts.flue_dam_height == Length{});
  CHECK(e.planned.high.counts.edge_dams == 1);
  CHECK(e.planned.high.counts.markers == 4);
  CHECK(assumes(e, "edge-dams"));
}

// Hand derivation: vents serve the attic's floors with their patches, 1000 + 10 + 6 of the hatch,
// not the slope's face.
TEST_CASE("counts: the vented area is that of the floors, with what lies in them") {
  Section floor = loose_section({4, 4});
  floor.patches = {Patch{"other", square_feet(10), {}, ""}};
  Section slope = flat_section();
  slope.name = "slope";
  slope.kind = SectionKind::slope;
  Survey s = survey_of({floor, hatch_section(6, 3), slope});
  s.ventilation = VentilationSurvey{square_inches(500), square_inches(500), {}, {}, {}};
  near(run(s).plan.ventilation->attic.us(), 1016, kNoise);
}

// Source: method eq. 10e: a row is a short view of an evaluation of its own, that of the largest
// floor over heated rooms.
TEST_CASE("rows: a comparison shows the largest heated floor, its depth and its weight") {
  Section garage = named(loose_section({1, 1}), "garage", 3000);
  garage.below = Below::unheated;
  Survey s = survey_of({named(loose_section({3, 3}), "small", 200),
                        named(loose_section({6, 6}), "large", 900), garage, hatch_section(2000, 3)},
                       38, 60);
  for (Section& floor : s.sections)
    if (floor.joists) floor.joists->spacing = inches(24);
  s.proposal->name = "our own";
  Proposal glass;
  glass.material = "glass-fiber-loose";
  s.compare = {glass};
  const Evaluation e = run(s);
  REQUIRE(e.compare.size() == 2);
  CHECK(e.compare[0].name == "our own");
  CHECK(e.compare[1].name == tables().material("glass-fiber-loose")->name);
  const TopUp& t = e.planned.high.sections[1];
  const CompareEnd& row = e.compare[0].ends.high;
  CHECK(row.depth == t.new_depth->mean);
  CHECK(row.initial_level == t.initial_level);
  CHECK(row.weight == t.weight_greatest);
  CHECK(row.weight_limit == t.weight_limit);
  CHECK(row.over_weight == true);  // 6 in. of 2 lb/ft3 and R-39 more at 24 in.: above 1.3 lb/ft2
  CHECK(row.working_r == t.working_r);
  CHECK(row.effective_r == e.planned.high.attic.effective_r);
  CHECK(e.compare[0].cautions.size() == e.findings.cautions.size());
}

// Invariant: one floor without room makes the row out of reach, whichever floor it is; a slope does
// not.
TEST_CASE("rows: a comparison is out of reach where any heated floor is") {
  Survey s = survey_of(
      {named(loose_section({3, 3}), "large", 900), named(loose_section({3, 3}), "low roof", 200)},
      49, 49);
  s.sections[1].headroom = inches(9);
  s.compare = {*s.proposal};
  const Evaluation e = run(s);
  CHECK(e.planned.high.sections[0].status == TopUpStatus::needed);
  CHECK(e.compare[1].ends.high.status == TopUpStatus::unreachable);
  CHECK(e.compare[1].ends.high.limited_by == LimitedBy::headroom);
  s.sections[1].below = Below::unheated;
  CHECK(run(s).compare[1].ends.high.status == TopUpStatus::needed);
}

// Hand derivation: 5.5 in. joists: R-13 of cellulose is 4.64 in. as blown, but an open floor is
// blown to the joist tops. Without wood it is 4.75. Foam is tested in test_batts.cpp.
TEST_CASE("rows: an open floor is blown to the joist tops at least") {
  Survey s = survey_of({loose_section({0, 0})}, 13, 13);
  near(run(s).planned.high.sections[0].initial_level->us(), 5.5, kNoise);
  s.sections[0].joists->framing_fraction = 0.0;
  near(run(s).planned.high.sections[0].initial_level->us(), 4.75, kNoise);
}

// Hand derivation: R-38 over nothing is 38/3.5/0.8 = 13.571, up to 13.75 in. as blown. Headroom
// of 13.75 in. holds it, 13.7 the exact level, R-38.36; 13.55 does not. 0.2 in. hold 0.16.
TEST_CASE("rows: what fits under the roof is blown to the roof") {
  Survey s = survey_of({loose_section({0, 0})}, 38, 38);
  const auto at = [&](double headroom) {
    s.sections[0].headroom = inches(headroom);
    return run(s).planned.high.sections[0];
  };
  near(at(13.75).initial_level->us(), 13.75, kNoise);
  CHECK(at(13.75).status == TopUpStatus::needed);
  CHECK(at(13.7).status == TopUpStatus::needed);
  near(at(13.7).working_r.us(), 38.36, 1e-9);
  CHECK(at(13.55).status == TopUpStatus::unreachable);
  near(at(13.55).initial_level->us(), 13.55, kNoise);
  near(at(13.55).working_r.us(), 37.94, 1e-9);
  near(at(0.2).initial_level->us(), 0.2, kNoise);
  near(at(0.2).new_depth->greatest.us(), 0.16, kNoise);
}

// Hand derivation: half-inch gypsum at 24 in. carries 1.3 lb/ft2: at 2 lb/ft3 settled 7.8 in., of 4
// in. old 3.8 new, 4.75 as blown: 8.75 in. Working R there 3.5 x 7.8 = 27.3.
TEST_CASE("rows: the best level within the ceiling's weight") {
  Survey s = survey_of({loose_section({4, 4})}, 49, 49);
  s.sections[0].joists->spacing = inches(24);
  const TopUp t = run(s).planned.high.sections[0];
  REQUIRE(t.within_weight);
  near(t.within_weight->initial_level.us(), 8.75, kNoise);
  near(t.within_weight->working_r.us(), 27.3, 1e-9);
  near(t.weight_greatest->us(), (4 + 0.8 * (t.initial_level->us() - 4)) / 6, 1e-9);
}

// Hand derivation: an R-30 batt of 25 lb for 50 ft2 is 0.5 lb/ft2 on 5.5 in. of
// cellulose, 5.5/6: 1.41667. It lies from 5.5 to 15.5 in. 1,000 ft2 are 20 packages at 60. In the
// step table they cost what is laid, not what is bought whole.
TEST_CASE("rows: what is laid has its weight, its level and its price") {
  Survey s = laid({product("ten", 30, 10)}, 49, 49);
  s.proposal->labour = Labour{0.5, {}, {}};
  s.proposal->waste_percent = 1.0;
  s.heating = heating_of("natural-gas", 0.8);
  s.heating->price_per_unit = 1.2;
  const Evaluation e = run(s);
  const TopUp& t = e.planned.high.sections[0];
  near(t.added_weight->us(), 0.5, kNoise);
  near(t.weight->us(), 0.5 + 5.5 / 6, kNoise);
  near(t.weight_greatest->us(), 0.5 + 5.5 / 6, kNoise);
  near(t.settled_level->us(), 15.5, kNoise);
  near(t.added_mass->us(), 500, kNoise);
  near(t.batts[0].packages_exact, 20.2, kNoise);
  near(e.planned.high.totals.packages.at(0).count, 21, 0);
  near(*e.planned.high.totals.material, 1260, kNoise);
  REQUIRE(e.steps.size() >= 2);
  near(*e.steps[1].cost, 60 * 21 + 500, 1e-6);
  Survey unpriced = laid({product("six", 19, 6.25, {}), product("ten", 30, 10)}, 38, 49);
  CHECK_FALSE(run(unpriced).planned.low.totals.material);
  CHECK(run(unpriced).planned.high.totals.material);
}

// Symptom: where the low end would lose heat there was no table, though the high end has a cost and
// a saving; cause: the first stage ended it. Hand derivation: 12 in. of wet cellulose are
// dry at most (3.8 per inch); are less, R-60 is more.
TEST_CASE("rows: a stage that would lose heat is no step, and hides no later one") {
  Survey s = priced_with_gas(survey_of({loose_section({12, 12})}, 19, 60));
  s.sections[0].layers[0].condition = Condition::wet;
  const Evaluation e = run(s);
  CHECK(e.planned.low.totals.year->heat.us() < 0);
  CHECK(e.planned.high.totals.year->heat.us() > 0);
  REQUIRE(e.steps.size() >= 2);
  CHECK(e.steps[1].step == "high");
  near(*e.steps[1].cost, *e.planned.high.totals.measure.cost, 1e-6);
  near(*e.steps[1].annual_saving, *e.planned.high.totals.measure.annual_saving, 1e-6);
}

// Hand derivation: the range is that of the product that was laid: cellulose of 5.5 in. is R 15.4
// to 20.9 (2.8 to 3.8 per inch), the labels are as printed. R-30 in one layer; then R-19 below
// R-13, told apart from R-19 on R-19 by the second name.
TEST_CASE("rows: the range after the work is that of what was laid") {
  const std::vector<BattProduct> list = {product("three", 13, 3.5), product("six", 19, 6.25),
                                         product("ten", 30, 10)};
  for (const auto& pair : {std::pair(38.0, 19.0), std::pair(49.0, 30.0), std::pair(51.0, 32.0),
                           std::pair(57.0, 38.0)}) {
    const double target = pair.first, added = pair.second;
    const TopUp t = run(laid(list, target, target)).planned.high.sections[0];
    CAPTURE(target);
    near(t.working_r.us(), 19.25 + added, 1e-9);
    near(t.working_r_range->low.us(), 15.4 + added, 1e-6);
    near(t.working_r_range->high->us(), 20.9 + added, 1e-6);
  }
}

// Invariant: what runs through the attic raises its own caution and no other.
TEST_CASE("rows: ducts, pipes and fans each raise their own caution") {
  const auto with = [](EquipmentKind kind, std::optional<bool> outdoors) {
    Survey s = survey_of({loose_section({4, 4})});
    Equipment x;
    x.kind = kind;
    x.ends_outdoors = outdoors;
    s.equipment = {x};
    return run(s);
  };
  const auto codes = [](const Evaluation& e) {
    std::string list;
    for (const char* code : {"pipe-freezes", "buried-duct", "vent-into-attic", "fan-end-unknown"})
      if (raises(e, code)) list += std::string(code) + ' ';
    return list;
  };
  CHECK(codes(with(EquipmentKind::duct, {})) == "buried-duct ");
  CHECK(codes(with(EquipmentKind::air_handler, {})) == "buried-duct ");
  CHECK(codes(with(EquipmentKind::pipe, {})) == "pipe-freezes ");
  CHECK(codes(with(EquipmentKind::fan, {})) == "fan-end-unknown ");
  CHECK(codes(with(EquipmentKind::fan, false)) == "vent-into-attic ");
  CHECK(codes(with(EquipmentKind::fan, true)).empty());
}
