// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <limits>

#include "fixtures.hpp"
#include "overjoist/ventilation.hpp"

using namespace fixtures;

namespace {

/// The figures of tests/reference/SOURCES.md#vents, #markers and #counts, apart from the table that
/// the program reads.
Tables figures() {
  Tables t;
  const auto add = [&](const char* id, double value) {
    t.figures.push_back({id, value, "", {}, "", ""});
  };
  add("dam-flue-margin", 4);
  add("marker-area", 300);
  add("vent-ratio", 150);
  add("vent-ratio-reduced", 300);
  add("vent-retarder-zone", 6);
  add("vent-upper-high", 50);
  add("vent-upper-low", 40);
  add("weatherstrip-waste", 10);
  return t;
}

/// 1,200 ft2: 8 ft2 at 1/150, 4 ft2 at 1/300, of which 1.6 to 2 ft2 high.
VentNeed need_of(std::optional<double> high, std::optional<double> low, std::optional<int> zone = 4,
                 std::optional<bool> retarder = {}) {
  Vents vents;
  vents.attic = square_feet(1200);
  if (high) vents.high = square_feet(*high);
  if (low) vents.low = square_feet(*low);
  vents.zone = zone;
  vents.retarder = retarder;
  return vent_need(vents, figures());
}

}  // namespace

// Source: tests/reference/SOURCES.md#vents. Hand derivation: 1,200/150 = 8 ft2, 1,200/300 = 4 ft2;
// 3 + 5 reaches 8 however it is split.
TEST_CASE("ventilation: the full ratio is met however the vents are split") {
  const VentNeed need = need_of(3, 5);
  near(need.required.us(), 8, kNoise);
  near(need.required_reduced.us(), 4, kNoise);
  near(need.present->us(), 8, kNoise);
  CHECK(need.verdict == VentVerdict::meets);
  CHECK_FALSE(need.reduced);
  CHECK(need_of(0, 8).verdict == VentVerdict::meets);
  CHECK(need_of(0, 8).missing_high == Area{});
  CHECK(need_of(8, 0, 7, false).verdict == VentVerdict::meets);
}

// Hand derivation: of 4 ft2, 1.6 to 2 high and the rest low. 1.6 + 2.4 and 2 + 2 meet it; upper
// vents of 3 ft2 count for 2.
TEST_CASE("ventilation: the reduced ratio is met by a split of high and low") {
  for (const auto& [high, low] : {std::pair{1.6, 2.4}, std::pair{2.0, 2.0}, std::pair{3.0, 2.0}}) {
    const VentNeed need = need_of(high, low);
    CHECK(need.verdict == VentVerdict::meets);
    CHECK(need.reduced);
    CHECK(need.balanced);
  }
}

// Hand derivation: 1 high and 3 low lack 0.6 high and then nothing low (1.6 + 3 > 4), or 4 anywhere
// for 8. 3 high and 1 low: high counts for 2, so 1 low lacks. Nothing at all: 1.6 high, 2.4 low.
TEST_CASE("ventilation: what is missing is named, high and low") {
  const VentNeed few_high = need_of(1, 3);
  CHECK(few_high.verdict == VentVerdict::short_of);
  near(few_high.missing_high.us(), 0.6, kNoise);
  CHECK(few_high.missing_low == Area{});
  near(few_high.missing_any.us(), 4, kNoise);
  const VentNeed few_low = need_of(3, 1);
  CHECK(few_low.verdict == VentVerdict::short_of);
  CHECK(few_low.missing_high == Area{});
  near(few_low.missing_low.us(), 1, kNoise);
  const VentNeed none = need_of(0, 0);
  near(none.missing_high.us(), 1.6, kNoise);
  near(none.missing_low.us(), 2.4, kNoise);
  near(none.missing_any.us(), 8, kNoise);
}

// Invariant: adding what is said to be missing meets the reduced ratio, from any start.
TEST_CASE("ventilation: adding what is missing is enough") {
  for (double high = 0; high < 4; high += 0.35)
    for (double low = 0; low < 4; low += 0.35) {
      const VentNeed need = need_of(high, low);
      CHECK(need_of(high + need.missing_high.us(), low + need.missing_low.us()).verdict ==
            VentVerdict::meets);
      CHECK(need_of(high, low + need.missing_any.us()).verdict == VentVerdict::meets);
    }
}

// Source: tests/reference/SOURCES.md#vents (retarder from memory): from zone 6 on the reduced ratio
// needs a retarder too; what was not entered is never taken for granted.
TEST_CASE("ventilation: from zone 6 on the reduced ratio hangs on a retarder") {
  CHECK(need_of(2, 2, 5).verdict == VentVerdict::meets);
  CHECK(need_of(2, 2, 6, true).verdict == VentVerdict::meets);
  const VentNeed without = need_of(2, 2, 6, false), unsaid = need_of(2, 2, 7),
                 no_zone = need_of(2, 2, {}, false);
  CHECK(without.verdict == VentVerdict::short_of);
  CHECK(without.retarder_missing);
  near(without.missing_any.us(), 4, kNoise);
  CHECK(unsaid.verdict == VentVerdict::unknown);
  CHECK(unsaid.need_retarder);
  CHECK_FALSE(unsaid.need_zone);
  CHECK(no_zone.verdict == VentVerdict::unknown);
  CHECK(no_zone.need_zone);
  CHECK_FALSE(no_zone.need_retarder);
  CHECK(need_of(2, 2, {}, true).verdict == VentVerdict::meets);
}

// Invariant: vents that were not entered leave the verdict unknown, unless the known ones reach the
// full ratio alone.
TEST_CASE("ventilation: a side that was not entered leaves the verdict unknown") {
  const VentNeed no_low = need_of(2, {}), nothing = need_of({}, {});
  CHECK(no_low.verdict == VentVerdict::unknown);
  CHECK(no_low.need_low);
  CHECK_FALSE(no_low.need_high);
  CHECK_FALSE(no_low.present);
  CHECK(nothing.verdict == VentVerdict::unknown);
  CHECK(nothing.need_high);
  CHECK(nothing.need_low);
  CHECK(need_of({}, 8).verdict == VentVerdict::meets);
}

// Source: tests/reference/SOURCES.md#markers: one, and one more for each further 300 ft2 or part of
// it.
TEST_CASE("counts: markers at 300, 301 and 1,200 ft2") {
  CHECK(marker_count(square_feet(300), figures()) == 1);
  CHECK(marker_count(square_feet(301), figures()) == 2);
  CHECK(marker_count(square_feet(1200), figures()) == 4);
  CHECK(marker_count(square_feet(20), figures()) == 1);
}

// Source: tests/reference/SOURCES.md#counts. Hand derivation: two eaves of 40 ft, 960 in. / 24 =
// 40, / 16 = 60; 961 in. / 24 = 40.04, so 41.
TEST_CASE("counts: a baffle for each vented rafter bay") {
  CHECK(baffle_count(inches(960), inches(24)) == 40);
  CHECK(baffle_count(inches(960), inches(16)) == 60);
  CHECK(baffle_count(inches(961), inches(24)) == 41);
  CHECK(baffle_count(Length::from_si(0.6 * 12), Length::from_si(0.6)) ==
        12);  // 7.2 m at 600 mm: no bay more by rounding
  CHECK(baffle_count(inches(0), inches(24)) == 0);
}

// Hand derivation: lids 22 x 30 and 22 x 54 in.: rims 104 + 152 = 256 in. = 21.333 ft, + 10 %
// = 23.467 ft; board (660 + 1,188)/144 = 12.833 ft2. Dams 2 lids + 1 flue + 1 furnace + 2 edges =
// 6, at a level of 14 in., 18 in. at the flue.
TEST_CASE("counts: dams, covers, flags and lids add up") {
  JobFacts facts;
  facts.blown = square_feet(1000);
  facts.vented_eave = inches(960);
  facts.rafter_spacing = inches(24);
  facts.lids = {{inches(22), inches(30)}, {inches(54), inches(22)}};
  facts.flues = facts.equipment = 1;
  facts.edges = 2;
  facts.non_ic_lights = 3;
  facts.buried_boxes = 5;
  facts.level = inches(14);
  const JobCounts counts = job_counts(facts, figures());
  CHECK(*counts.baffles == 40);
  CHECK(counts.markers == 4);
  CHECK(counts.dams == 6);
  CHECK(counts.flue_dams == 1);
  CHECK(counts.light_covers == 3);
  CHECK(counts.flags == 5);
  CHECK(counts.dam_height.us() == 14);
  CHECK(counts.flue_dam_height.us() == 18);
  near(counts.weatherstrip_ft, 256.0 / 12 * 1.1, kNoise);
  near(counts.lid_board.us(), 1848.0 / 144, kNoise);
}

// Invariant: no vents, no baffles; vents over rafters of unknown spacing are not counted, never 0;
// nothing blown, no markers.
TEST_CASE("counts: what is not known is not counted") {
  JobFacts facts;
  CHECK(*job_counts(facts, figures()).baffles == 0);
  CHECK(job_counts(facts, figures()).markers == 0);
  facts.vented_eave = inches(960);
  CHECK_FALSE(job_counts(facts, figures()).baffles);
}

// Invariant: what cannot be is refused, NaN too; a figure that the tables lack is named.
TEST_CASE("ventilation: figures out of range are refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  JobFacts facts;
  facts.flues = -1;
  CHECK_THROWS_AS(need_of(-1, 2), Error);
  CHECK_THROWS_AS(need_of(2, nan), Error);
  CHECK_THROWS_AS(vent_need({}, figures()), Error);
  CHECK_THROWS_AS(baffle_count(inches(960), inches(0)), Error);
  CHECK_THROWS_AS(baffle_count(inches(-1), inches(24)), Error);
  CHECK_THROWS_AS(baffle_count(inches(1e9), inches(0.01)), Error);
  CHECK_THROWS_AS(marker_count(square_feet(-1), figures()), Error);
  CHECK_THROWS_AS(marker_count(square_feet(nan), figures()), Error);
  CHECK_THROWS_AS(job_counts(facts, figures()), Error);
  CHECK_THROWS_AS(weatherstrip_ft({inches(-1), inches(30)}, 0.1), Error);
  CHECK_THROWS_AS(marker_count(square_feet(300), Tables{}), Error);
}
