// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

#include "fixtures.hpp"
#include "overjoist/sealing.hpp"

using namespace fixtures;

namespace {

BypassRow row_of(const char* id, BypassUnit unit, int rank, Sealant sealant,
                 std::optional<double> bead_in = {}, double bead_ft = 0) {
  BypassRow row;
  row.id = row.name = id;
  row.unit = unit;
  row.rank = rank;
  row.sealant = sealant;
  if (bead_in) row.bead_width = inches(*bead_in);
  row.bead_ft_per_unit = bead_ft;
  return row;
}

/// Rows like those of data/bypasses.json, apart from the table that the program reads.
Tables sealing_tables() {
  Tables t;
  BypassRow chase = row_of("chase", BypassUnit::ft2, 1, Sealant::foam_or_caulk, 0.5);
  chase.rim = chase.board_over_opening = true;
  BypassRow flue = row_of("flue", BypassUnit::each, 2, Sealant::heat);
  flue.fire_rule = "No foam.";
  flue.metal_per_unit_low = square_feet(2);
  flue.metal_per_unit_high = square_feet(4);
  flue.tubes_per_unit = 0.5;
  flue.leak = BypassLeak{31, 28, {}, "from memory"};
  BypassRow hatch = row_of("hatch", BypassUnit::each, 6, Sealant::weatherstrip);
  hatch.rim = hatch.board_over_opening = true;
  hatch.opening_length = inches(30);
  hatch.opening_width = inches(22);
  hatch.leak = BypassLeak{30, 18, {}, "published"};
  BypassRow knee = row_of("knee-wall", BypassUnit::bay, 7, Sealant::foam_or_caulk, 0.5);
  knee.rim = knee.board_over_opening = true;
  knee.opening_length = inches(14.5);
  knee.opening_width = inches(5.5);
  BypassRow light = row_of("light", BypassUnit::each, 3, Sealant::caulk, 0.25, 5);
  light.covers_per_unit = 1;
  BypassRow plate = row_of("plate", BypassUnit::ft, 4, Sealant::foam_or_caulk, 0.25, 2);
  plate.leak = BypassLeak{1.5, 0.5, {}, "published"};
  BypassRow chimney = row_of("chimney", BypassUnit::ft, 2, Sealant::heat, 0.25, 2);
  chimney.rim = true;
  t.bypasses = {chase, chimney, flue, hatch, knee, light, plate};
  for (const auto& [id, value] : {std::pair{"sheet-area", 32.0}, std::pair{"sheet-waste", 15.0},
                                  std::pair{"tube-large", 52.0}, std::pair{"tube-small", 18.2},
                                  std::pair{"weatherstrip-waste", 10.0}})
    t.figures.push_back({id, value, "", {}, "", ""});
  return t;
}

Bypass bypass_of(const char* kind, double count, std::optional<double> length_in = {},
                 std::optional<double> width_in = {}, std::optional<double> area_ft2 = {}) {
  Bypass b;
  b.kind = kind;
  b.count = count;
  if (length_in) b.length = inches(*length_in);
  if (width_in) b.width = inches(*width_in);
  if (area_ft2) b.area = square_feet(*area_ft2);
  return b;
}

SealingList list_of(const std::vector<Bypass>& bypasses, const SealingOptions& options = {}) {
  return sealing_list(bypasses, sealing_tables(), options);
}
SealingItem item_of(const Bypass& bypass, const SealingOptions& options = {}) {
  return list_of({bypass}, options).items.at(0);
}

}  // namespace

// Source: tests/reference/SOURCES.md#beads, in3 a foot to two decimals: half the last digit. A
// board foot is 144 in3: 61 ft of 1/2 in. bead.
TEST_CASE("sealing: volume of a foot of bead") {
  near(bead_volume_per_ft(inches(0.25)), 0.59, 0.005);
  near(bead_volume_per_ft(inches(0.375)), 1.33, 0.005);
  near(bead_volume_per_ft(inches(0.5)), 2.36, 0.005);
  near(bead_volume_per_ft(inches(0.75)), 5.30, 0.005);
  near(bead_volume_per_ft(inches(1)), 9.42, 0.005);
  near(144 / bead_volume_per_ft(inches(0.5)), 61, 0.5);
}

// Source: tests/reference/SOURCES.md#beads: feet a tube, printed to whole feet, 7.7 to a tenth:
// half the last digit.
TEST_CASE("sealing: feet of bead from a tube of either size") {
  struct Row {
    double width, small, small_slack, large;
  };
  for (const Row& row :
       {Row{0.25, 31, 0.5, 88}, Row{0.375, 14, 0.5, 39}, Row{0.5, 7.7, 0.05, 22}}) {
    Tables t = sealing_tables();
    t.bypasses.back().bead_width = inches(row.width);
    const SealingItem item = sealing_list({bypass_of("plate", 0, 1200)}, t).items.at(0);
    near(item.bead_ft / item.tubes_small, row.small, row.small_slack);
    near(item.bead_ft / item.tubes_large, row.large, 0.5);
  }
}

// Hand derivation: 50 ft of plate take 100 ft of 1/4 in. bead, 58.9 in3: 3.24 small tubes, with 10
// % waste 3.56, so 4; large 1.25, so 2. Cans of 2 board ft hold 288 in3: 64.8 in3, so 1 can. A
// light's 5 ft of caulk (0.16 tube) stays in tubes, so 1 beside the can.
TEST_CASE("sealing: tubes and cans are whole and hold the waste") {
  const std::vector<Bypass> leaks = {bypass_of("plate", 0, 600), bypass_of("light", 1)};
  const SealingTotals by_tube = list_of(leaks, {0.1, {}, {}}).totals,
                      with_foam = list_of(leaks, {0.1, 2.0, {}}).totals;
  CHECK(by_tube.tubes_small == 4);
  CHECK(by_tube.tubes_large == 2);
  CHECK_FALSE(by_tube.foam_cans);
  CHECK(*with_foam.foam_cans == 1);
  CHECK(with_foam.tubes_small_with_foam == 1);
  CHECK(by_tube.beads.size() == 1);
  near(by_tube.beads[0].feet, 105, kNoise);
}

// Source: tests/reference/SOURCES.md#beads: cans = ceil(feet (1 + waste) / (61 board feet a can))
// at 1/2 in.: a chase of 12 x 3 ft has 30 ft of rim; ten of them 300 ft, with 10 % waste and cans
// of 1.5 board ft 330/91.5 = 3.6, so 4.
TEST_CASE("sealing: foam cans from the yield on the label") {
  CHECK(*list_of({bypass_of("chase", 10, 144, 36)}, {0.1, 1.5, {}}).totals.foam_cans == 4);
}

// Hand derivation: chase 2 x 4 ft, twice: 16 ft2 of board, 24 ft of bead; sheets 16/32 x 1.15 =
// 0.575, so 1. From 9 ft2 alone the rim is that of a square, 12 ft, the least there can be (1 x 9
// ft has 20).
TEST_CASE("sealing: board and bead of an open shaft from its sides, or from its area") {
  const SealingItem sides = item_of(bypass_of("chase", 2, 24, 48)),
                    area = item_of(bypass_of("chase", 0, {}, {}, 9));
  near(*sides.quantity, 16, kNoise);
  near(sides.board.us(), 16, kNoise);
  near(sides.bead_ft, 24, kNoise);
  CHECK_FALSE(sides.rim_is_least);
  CHECK(list_of({bypass_of("chase", 2, 24, 48)}).totals.sheets == 1);
  near(area.board.us(), 9, kNoise);
  near(area.bead_ft, 12, kNoise);
  CHECK(area.rim_is_least);
}

// Hand derivation: a hatch of 30 x 22 in.: rim 104 in. = 8.667 ft, + 10 % = 9.533; lid 660/144
// = 4.583 ft2; its own 36 x 24: 10 ft and 6 ft2.
TEST_CASE("sealing: a hatch takes weatherstrip and board, the common size where none is given") {
  const SealingItem common = item_of(bypass_of("hatch", 0)),
                    own = item_of(bypass_of("hatch", 1, 36, 24));
  CHECK(common.size_from_table);
  near(common.weatherstrip_ft, 104.0 / 12, kNoise);
  near(common.board.us(), 660.0 / 144, kNoise);
  CHECK(common.bead_ft == 0);
  near(list_of({bypass_of("hatch", 0)}).totals.weatherstrip_ft, 104.0 / 12 * 1.1, kNoise);
  CHECK_FALSE(own.size_from_table);
  near(own.weatherstrip_ft, 10, kNoise);
  near(own.board.us(), 6, kNoise);
}

// Hand derivation: a wall of 20 ft over joists at 16 in. has 15 bays, of 21 ft at 16 in. 15.75, so
// 16; each 14.5 x 5.5 in.: rim 40 in., 79.75/144 ft2.
TEST_CASE("sealing: bays from a wall's length and the joist spacing") {
  const SealingOptions at16{0.0, {}, inches(16)};
  const SealingItem wall = item_of(bypass_of("knee-wall", 0, 240), at16);
  CHECK(*wall.quantity == 15);
  near(wall.bead_ft, 15 * 40.0 / 12, kNoise);
  near(wall.board.us(), 15 * 79.75 / 144, kNoise);
  CHECK(*item_of(bypass_of("knee-wall", 0, 252), at16).quantity == 16);
  CHECK(*item_of(bypass_of("knee-wall", 9, 240), at16).quantity == 9);
}

// Hand derivation: a chimney of 16 x 32 in. has 8 ft of perimeter; a plate's width is that of its
// gap and adds nothing to its length.
TEST_CASE("sealing: a perimeter from two sides, a joint from its length") {
  near(*item_of(bypass_of("chimney", 1, 32, 16)).quantity, 8, kNoise);
  near(*item_of(bypass_of("plate", 0, 96, 0.25)).quantity, 8, kNoise);
  near(*item_of(bypass_of("plate", 3, 96)).quantity, 24, kNoise);
}

// Common practice (tests/reference/SOURCES.md#sealing-practice): a flue takes sheet metal and
// high-temperature sealant, never foam.
TEST_CASE("sealing: a flue takes metal and heat-proof tubes, never foam") {
  const SealingList list = list_of({bypass_of("flue", 3)}, {0.0, 2.0, {}});
  CHECK(list.items[0].fire_rule == "No foam.");
  CHECK(list.totals.metal_low.us() == 6);
  CHECK(list.totals.metal_high.us() == 12);
  CHECK(list.totals.heat_tubes_small == 2);
  CHECK(list.totals.tubes_small == 0);
  CHECK(*list.totals.foam_cans == 0);
}

// Source: tests/reference/SOURCES.md#leakage-areas. Hand derivation: 100 ft of plate = 30.48 m
// at 1.5 (0.5) cm2/m = 45.72 (15.24); a hatch 30 (18); two flues 62 (56); together 137.72 (89.24)
// cm2. A chase is not known and is left out of the sum.
TEST_CASE("sealing: leakage adds up, and the unknown is counted, not taken as 0") {
  const SealingList list = list_of({bypass_of("plate", 0, 1200), bypass_of("hatch", 1),
                                    bypass_of("flue", 2), bypass_of("chase", 1, {}, {}, 8)});
  near(list.totals.leak_typical.si() * 1e4, 137.72, 1e-9);
  near(list.totals.leak_tight.si() * 1e4, 89.24, 1e-9);
  CHECK(list.totals.leaks_known == 3);
  CHECK(list.totals.leaks_unknown == 1);
  CHECK_FALSE(list.items[0].leak_typical);
  CHECK(list.items[1].leak_status == "from memory");
}

// Common practice (tests/reference/SOURCES.md#sealing-practice): big holes first, then heat,
// lights, plates, hatch, knee wall; of a kind the larger first.
TEST_CASE("sealing: the biggest holes come first, whatever the order of the survey") {
  std::vector<Bypass> leaks = {
      bypass_of("knee-wall", 4),       bypass_of("hatch", 1), bypass_of("plate", 0, 120),
      bypass_of("light", 2),           bypass_of("flue", 1),  bypass_of("chase", 1, {}, {}, 2),
      bypass_of("chase", 1, {}, {}, 8)};
  const SealingList list = list_of(leaks);
  const std::vector<std::string> order = {"chase", "chase", "flue",     "light",
                                          "plate", "hatch", "knee-wall"};
  for (std::size_t i = 0; i < order.size(); ++i) CHECK(list.items[i].kind == order[i]);
  near(*list.items[0].quantity, 8, kNoise);
  std::reverse(leaks.begin(), leaks.end());
  const SealingList again = list_of(leaks);
  for (std::size_t i = 0; i < order.size(); ++i)
    CHECK(again.items[i].bead_ft == list.items[i].bead_ft);
  CHECK(again.totals.leak_typical == list.totals.leak_typical);
}

// Invariant: metres and feet give the same list; 3.048 m is 10 ft.
TEST_CASE("sealing: lengths in metres give the same list") {
  Bypass metric = bypass_of("plate", 0);
  metric.length = Length::from_si(3.048);
  near(item_of(metric).bead_ft, item_of(bypass_of("plate", 0, 120)).bead_ft, kNoise);
}

// Invariant: what the survey does not measure is counted as such and is in no sum; an empty survey
// gives an empty list.
TEST_CASE("sealing: what is not measured is said, not taken as 0") {
  const SealingList list =
      list_of({bypass_of("plate", 2), bypass_of("chase", 1), bypass_of("knee-wall", 0, 240)});
  CHECK(list.totals.not_measured == 3);
  CHECK(list.totals.leaks_unknown == 3);
  for (const SealingItem& item : list.items) CHECK_FALSE(item.quantity);
  CHECK(list_of({}).items.empty());
  CHECK(list_of({}).totals.tubes_small == 0);
}

// Invariant: what cannot be is refused, NaN too; so is a kind that no row has.
TEST_CASE("sealing: figures out of range and unknown kinds are refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(list_of({bypass_of("hatch", -1)}), Error);
  CHECK_THROWS_AS(list_of({bypass_of("hatch", nan)}), Error);
  CHECK_THROWS_AS(list_of({bypass_of("plate", 0, -1)}), Error);
  CHECK_THROWS_AS(list_of({bypass_of("chase", 0, 12, -1)}), Error);
  CHECK_THROWS_AS(list_of({bypass_of("chase", 0, {}, {}, nan)}), Error);
  CHECK_THROWS_AS(list_of({bypass_of("hatch", 1)}, {1.0, {}, {}}), Error);
  CHECK_THROWS_AS(list_of({bypass_of("hatch", 1)}, {0.0, 0.0, {}}), Error);
  CHECK_THROWS_AS(list_of({bypass_of("hatch", 1)}, {0.0, {}, inches(0)}), Error);
  CHECK_THROWS_AS(bead_volume_per_ft(inches(0)), Error);
  CHECK_THROWS_WITH_AS(list_of({bypass_of("hatsch", 1)}), "no kind of bypass 'hatsch'", Error);
}

// Source: tests/reference/SOURCES.md keeps the table: sheets of 32 ft2, 15 % waste. Hand
// derivation: 28 ft2 and 15 % are 32.2 ft2, two sheets; 27.8 ft2 are 31.97 ft2, one.
TEST_CASE("sealing: sheets of board hold their waste") {
  const auto sheets = [](double ft2) {
    Bypass b;
    b.kind = "open-chase";
    b.area = square_feet(ft2);
    return sealing_list({b}, tables()).totals.sheets;
  };
  near(sheets(27.8), 1, 0);
  near(sheets(28), 2, 0);
}

// Hand derivation: a joint whose length nobody measured has no bead to count. Two chases of half a
// unit's count are as many as the survey says; without a count one is meant.
TEST_CASE("sealing: a bead without a length is no bead, and a count is taken as it is") {
  CHECK(sealing_list({{"top-plate", "hall", 0, {}, {}, {}}}, tables()).totals.beads.empty());
  const auto area = [](double count) {
    return sealing_list({{"open-chase", "bath", count, inches(24), inches(12), {}}}, tables())
        .items[0]
        .quantity.value_or(-1);
  };
  near(area(0), 2, kNoise);
  near(area(1), 2, kNoise);
  near(area(3), 6, kNoise);
}

// Source: data/bypasses.json: a cover over each light without an IC label, metal of 2 to 4 ft2 at a
// flue. Hand derivation: for 3 of them three times as much.
TEST_CASE("sealing: goods of a bypass go with its count") {
  const SealingList three =
      sealing_list({{"recessed-light-non-ic", "hall", 3, {}, {}, {}}}, tables());
  near(three.items[0].covers, 3, kNoise);
  near(three.totals.covers, 3, kNoise);
  const BypassRow& flue = *tables().bypass("flue");
  const SealingList flues = sealing_list({{"flue", "furnace", 3, {}, {}, {}}}, tables());
  CHECK(flue.metal_per_unit_high > Area{});
  near(flues.totals.metal_low.us(), 3 * flue.metal_per_unit_low.us(), kNoise);
  near(flues.totals.metal_high.us(), 3 * flue.metal_per_unit_high.us(), kNoise);
  near(flues.items[0].tubes_small, 3 * flue.tubes_per_unit, kNoise);
}
