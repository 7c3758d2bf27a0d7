// SPDX-License-Identifier: MIT
// Counts of the plan, the vented area, and what runs through the attic.
#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <string>

#include "fixtures.hpp"

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

// Invariant: what runs through the attic raises its own caution and no other.
TEST_CASE("site: ducts, pipes and fans each raise their own caution") {
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
