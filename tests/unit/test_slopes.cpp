// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"
#include "overjoist/slopes.hpp"

using namespace fixtures;

namespace {

/// Rafters of 7.25 in., a tenth of the area, between board and deck: ends 0.61 + 0.45 and 0.46.
Cavity rafters(double gap) {
  Cavity c;
  c.depth = inches(7.25);
  c.vent_gap = inches(gap);
  c.framing = framing_of(0.10, 0);
  c.ends = {r_value(0.61 + 0.45), r_value(0.46)};
  return c;
}

/// Studs between half-inch gypsum and an open back; inside film, vertical, on both sides (tests/reference/SOURCES.md#slopes).
Cavity knee_wall(double stud_in) {
  Cavity c;
  c.depth = inches(stud_in);
  c.framing = framing_of(0.10, 0);
  c.ends = {r_value(0.68 + 0.45), r_value(0.68)};
  c.closed = false;
  return c;
}

}  // namespace

// Hand derivation: packed whole, 7.25 in. at R-3.5: cavity 1.52 + 25.375 = 26.895, wood 1.52 + 9.0625 = 10.5825; U = 0.9/26.895 +
// 0.1/10.5825 = 0.033463 + 0.009450. With 1 in. of air 6.25 in. fit: cavity 1.52 + 21.875 = 23.395, and the wood in the moving air counts
// for nothing: 1.52 + 7.8125 = 9.3325.
TEST_CASE("slopes: a vent gap takes depth from the fill and from the wood that counts") {
  const CavityR whole = cavity_r(rafters(0), loose_layer(3.5)), vented = cavity_r(rafters(1), loose_layer(3.5));
  near(whole.fill.us(), 7.25, kNoise);
  near(whole.working.us(), 25.375, kNoise);
  near(whole.cavity.us(), 26.895, kNoise);
  near(whole.wood.us(), 10.5825, kNoise);
  near(whole.u.us(), 0.9 / 26.895 + 0.1 / 10.5825, kNoise);
  near(whole.effective.us(), 1 / whole.u.us(), kNoise);
  near(vented.fill.us(), 6.25, kNoise);
  near(vented.working.us(), 21.875, kNoise);
  near(vented.cavity.us(), 23.395, kNoise);
  near(vented.wood.us(), 9.3325, kNoise);
  CHECK_FALSE(whole.weight);
}

// Source: tests/reference/SOURCES.md#slopes: 2, 3 and 4 lb/ft2 for 6, 9 and 12 in. at 4 lb/ft3, published, whole digits, so 0.5; exact
// arithmetic in fact. Hand derivation: for 3.5 in. the guide prints 1.3, but 4·3.5/12 = 7/6. Over the face with a tenth of wood, nine
// tenths of it.
TEST_CASE("slopes: dense pack weighs density times depth") {
  const std::pair<double, double> rows[] = {{3.5, 7.0 / 6}, {6, 2}, {9, 3}, {12, 4}};
  for (const auto& [depth, psf] : rows) {
    Cavity c = rafters(0);
    c.depth = inches(depth);
    const CavityR r = cavity_r(c, loose_layer(3.5), Density::from_us(4));
    near(r.cavity_weight->us(), psf, kNoise);
    near(r.weight->us(), 0.9 * psf, kNoise);
  }
}

// Source: tests/reference/SOURCES.md#slopes: R-19 in 3.5 in. is 14 in the label table, within 1.0 as for the law; 13.46 by
// hand: 3.5/(0.1724 + (6.25/19 - 0.1724)·0.56). Common practice: R-19 for a knee wall.
TEST_CASE("knee wall: R-19 squeezed into studs of 3.5 in. misses R-19, with R-6 board across it does not") {
  const LeastR bare = against_least(knee_wall(3.5), batt_layer(19, 6.25), r_value(19));
  near(bare.found.working.us(), 14, 1.0);
  near(bare.found.working.us(), 13.46, 0.005);
  CHECK_FALSE(bare.meets);
  near(bare.short_by.us(), 5.54, 0.005);
  Cavity covered = knee_wall(3.5);
  covered.continuous = r_value(6);
  covered.closed = true;
  const LeastR with_board = against_least(covered, batt_layer(19, 6.25), r_value(19));
  CHECK(with_board.meets);
  CHECK(with_board.short_by == Resistance{});
  near(with_board.found.wood.us(), 1.13 + 4.375 + 6 + 0.68, kNoise);
}

// Hand derivation: R-19 of 6.25 in. in studs of 7.25 in. keeps its label R: not fluffed. Open at the back the wood counts to 6.25 in.: 1.81
// + 7.8125; backed, whole: 1.81 + 9.0625.
TEST_CASE("knee wall: a batt thinner than the studs is not fluffed, and the wood counts whole only behind a backing") {
  Cavity wall = knee_wall(7.25);
  const LeastR open = against_least(wall, batt_layer(19, 6.25), r_value(19));
  CHECK(open.meets);
  near(open.found.fill.us(), 6.25, kNoise);
  near(open.found.cavity.us(), 20.81, kNoise);
  near(open.found.wood.us(), 9.6225, kNoise);
  wall.closed = true;
  near(cavity_r(wall, batt_layer(19, 6.25)).wood.us(), 10.8725, kNoise);
}

// Invariant: without wood the parallel path is the cavity itself; more gap is never better.
TEST_CASE("slopes: no wood gives the plain cavity, and more gap less R") {
  double last = 1e9;
  for (double gap : {0.0, 0.5, 1.0, 2.0, 7.0}) {
    Cavity c = rafters(gap);
    const double effective = cavity_r(c, loose_layer(3.5)).effective.us();
    CHECK(effective < last);
    last = effective;
    c.framing = framing_of(0, 0);
    near(cavity_r(c, loose_layer(3.5)).u.us(), 1 / (1.52 + 3.5 * (7.25 - gap)), kNoise);
  }
}

// Hand derivation: a batt of 12 in. has no data below 6 in.; a board of 4 in. does not fit in 3.5; a gap of 8 in. leaves nothing of 7.25.
TEST_CASE("slopes: what does not fit is refused") {
  CHECK_THROWS_WITH_AS(cavity_r(knee_wall(3.5), batt_layer(38, 12)), doctest::Contains("batt of 12 in. does not fit"), Error);
  CHECK_THROWS_WITH_AS(cavity_r(knee_wall(3.5), board_layer(5, 4)), doctest::Contains("board of 4 in. does not fit"), Error);
  near(cavity_r(knee_wall(3.5), board_layer(5, 2)).working.us(), 10, kNoise);
  for (double gap : {8.0, 7.25, -1.0, std::nan("")})
    CHECK_THROWS_WITH_AS(fitting_depth(rafters(gap)), doctest::Contains("vent gap"), Error);
  CHECK_THROWS_WITH_AS(against_least(knee_wall(3.5), batt_layer(13, 3.5), r_value(0)), doctest::Contains("least R"), Error);
  Cavity solid = rafters(0);
  solid.framing.fraction = 1.0;
  CHECK_THROWS_WITH_AS(cavity_r(solid, loose_layer(3.5)), doctest::Contains("framing share"), Error);
}
