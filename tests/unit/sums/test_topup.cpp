// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

const Framing kNoFraming = framing_of(0, 0);

struct UnevenRow {
  std::vector<double> depths;
  double u, r, change, even_depth;
};

}  // namespace

// Independent: tests/reference/SOURCES.md#uneven-depth: mean depth 10 in., R_s 1.67, k 0.32, no
// framing; every printed figure to half its last digit. R at the mean depth is 32.920.
TEST_CASE("uneven depth: 4 and 16 in. are worth R-22.241, not the R-32.920 of their mean") {
  const std::vector<UnevenRow> rows = {
      {{8, 9, 10, 11, 12}, 0.03094, 32.319, -1.8, 9.81},
      {{4, 16}, 0.04496, 22.241, -32.4, 6.58},
      {{2, 6, 10, 14, 18}, 0.04898, 20.417, -38.0, 6.00},
      {{1, 10, 10, 10, 10, 10, 10, 10, 10, 19}, 0.04679, 21.370, -35.1, 6.30}};
  const NewFill none = fill_of(3.5, 0, 2);
  const double even =
      floor_r(floor_of({10}, 1 / 0.32, 1.67, kNoFraming), none, inches(0)).effective.us();
  near(even, 32.920, 0.0005);
  for (const UnevenRow& row : rows) {
    const double r =
        floor_r(floor_of(row.depths, 1 / 0.32, 1.67, kNoFraming), none, inches(0)).effective.us();
    near(1 / r, row.u, 0.000005);
    near(r, row.r, 0.0005);
    near(100 * (r / even - 1), row.change, 0.05);
    near((r - 1.67) * 0.32, row.even_depth, 0.005);
  }
}

// Invariant: equal depths lose nothing, uneven ones always lose against their mean.
TEST_CASE("uneven depth: equal depths lose nothing and uneven ones always lose") {
  const NewFill none = fill_of(3.5, 0, 2);
  const auto working = [&](const std::vector<double>& d) {
    return floor_r(floor_of(d, 3.5, kEnds, kNoFraming), none, inches(0)).working.us();
  };
  near(working({7, 7, 7, 7}), 24.5, kNoise);
  for (double spread : {0.5, 1.0, 3.0, 7.0}) CHECK(working({7 - spread, 7 + spread}) < 24.5);
}

// Hand derivation: 20 % settling needs settled/0.80 = 1.25 x settled, not 1.20 x: R-35 at 3.5 per
// inch is 10 in. settled, 12.5 blown.
TEST_CASE("settling: 20 per cent needs 1.25 times the settled depth") {
  const BaseFloor bare = floor_of({0}, 3.5, kEnds, kNoFraming);
  const NewFill fill = fill_of(3.5, 0.20, 2);
  near(level_for(bare, fill, Basis::working, r_value(35))->us(), 12.5,
       1e-7);  // the solver's 1e-7 R is 4e-8 in.
  near(fill.settled(inches(12.5)).us(), 10, kNoise);
  near(floor_r(bare, fill, inches(12.5)).working.us(), 35, kNoise);
}

// Hand derivation: blown flat to 20 in. over 0, 4 and 8 in.: 0.8 x 20 = 16, 4 + 0.8 x 16 = 16.8, 8
// + 0.8 x 12 = 17.6. Only new fill settles.
TEST_CASE("settling: a flat blow of 20 in. settles to 16, 16.8 and 17.6 over 0, 4 and 8 in.") {
  const BaseFloor floor = floor_of({0, 4, 8}, 3.5, kEnds, framing_of(0.1, 5.5));
  const NewFill fill = fill_of(3.5, 0.20, 2);
  const double want[] = {16, 16.8, 17.6};
  for (std::size_t i = 0; i < 3; ++i)
    near((floor.spots[i].surface + new_settled(floor.spots[i], fill, inches(20))).us(), want[i],
         kNoise);
  CHECK(new_settled(floor.spots[2], fill, inches(8)).us() == 0.0);
  CHECK(new_settled(floor.spots[2], fill, inches(5)).us() == 0.0);
}

// Hand derivation: 10 in. initial over a bare bay with 5.5 in. joists settles to 8: bay 1.52 + 28,
// joist 1.52 + 6.875 + 2.5 x 3.5 = 17.145; U = 0.1/17.145 + 0.9/29.52. Below the joist top, 5 in.
// initial, 4 settled: joist 1.52 + 5, bay 1.52 + 14.
TEST_CASE("top-up: joists count up to the new surface and new fill above them counts") {
  const BaseFloor floor = floor_of({0}, 3.5, kEnds, framing_of(0.1, 5.5));
  const NewFill fill = fill_of(3.5, 0.20, 2);
  near(floor_r(floor, fill, inches(10)).effective.us(), 1 / (0.1 / 17.145 + 0.9 / 29.52), kNoise);
  near(floor_r(floor, fill, inches(5)).effective.us(), 1 / (0.1 / 6.52 + 0.9 / 15.52), kNoise);
}

// Invariant: the derivative agrees with the difference of the values; step 1e-5 in., so the error
// of a central difference stays below 1e-6.
TEST_CASE("top-up: slopes are the derivatives of the values") {
  const CoverageChart chart(invented_rows(), Mass::from_us(25), 0);
  NewFill by_chart;
  by_chart.chart = &chart;
  const BaseFloor floor = floor_of({0, 3, 7}, 3.5, kEnds, framing_of(0.1, 5.5));
  for (const NewFill& fill : {fill_of(3.5, 0.2, 2), by_chart})
    for (double level : {2.0, 6.0, 9.3, 14.7}) {
      const double h = 1e-5;
      const FloorR at = floor_r(floor, fill, inches(level)),
                   up = floor_r(floor, fill, inches(level + h)),
                   down = floor_r(floor, fill, inches(level - h));
      near(at.working_slope.us(), (up.working - down.working).us() / (2 * h), 1e-5);
      near(at.effective_slope.us(), (up.effective - down.effective).us() / (2 * h), 1e-5);
    }
}

// Invariant: the level returned reaches the target and is the least that does, within the promised
// 1e-7 R, in a handful of steps.
TEST_CASE("top-up: the solver gives the least level, never below the target, in at most 12 steps") {
  const CoverageChart chart(invented_rows(), Mass::from_us(25), 0);
  NewFill by_chart;
  by_chart.chart = &chart;
  const std::vector<std::vector<double>> floors = {
      {0}, {4}, {0, 2, 4, 6}, {3, 3.5, 4, 5, 5.5, 6}, {0, 0, 12}, {1, 10, 19}};
  int most = 0;
  for (const auto& depths : floors)
    for (const NewFill& fill : {fill_of(3.5, 0.2, 2), fill_of(2.2, 0.04, 1), by_chart})
      for (Basis basis : {Basis::working, Basis::effective})
        for (double target : {30.0, 38.0, 49.0, 60.0}) {
          const BaseFloor floor = floor_of(depths, 3.5, kEnds, framing_of(1.5 / 16, 5.5));
          if (floor_r(floor, fill, inches(0)).of(basis) >= r_value(target)) continue;
          int steps = 0;
          const Length level = level_for(floor, fill, basis, r_value(target), &steps).value();
          const double miss = floor_r(floor, fill, level).of(basis).us() - target;
          CHECK(miss >= 0);
          CHECK(miss <= 1e-7);
          most = std::max(most, steps);
        }
  INFO("most steps " << most);
  CHECK(most <= 12);
}

// Hand derivation: a fill of R 0 per inch never reaches anything.
TEST_CASE("top-up: a fill that adds no R is refused") {
  const BaseFloor floor = floor_of({4}, 3.5, kEnds, kNoFraming);
  CHECK_THROWS_WITH_AS(level_for(floor, fill_of(0, 0.2, 2), Basis::working, r_value(38)),
                       doctest::Contains("adds no R"), Error);
}

// Hand derivation: rows of the invented chart by hand. Initial 12.7 is halfway between 9.6
// and 15.8, so settled 11.25; 2.1 is half of the first row's 4.2, so 1.85; beyond the last row its
// proportion goes on: 31.6 to 28. R and slope: 30 + 19/2 = 39.5, 19/5.5 per inch.
TEST_CASE("top-up: with a chart, settled depth and R follow the new layer's own thickness") {
  const CoverageChart chart(invented_rows(), Mass::from_us(25), 0);
  near(chart.settled_for_initial(inches(12.7)).us(), 11.25, kNoise);
  near(chart.settled_for_initial(inches(2.1)).us(), 1.85, kNoise);
  near(chart.settled_for_initial(inches(31.6)).us(), 28, kNoise);
  near(chart.r_at(inches(11.25)).us(), 39.5, kNoise);
  near(chart.r_slope(inches(11.25)).us(), 19 / 5.5, kNoise);
  near(chart.settled_slope(inches(12.7)), 5.5 / 6.2, kNoise);
  NewFill fill;
  fill.chart = &chart;
  // Over R-14 of old fill: 14 + 39.5, by the row of the added R and not of the target.
  const BaseFloor floor = floor_of({4}, 3.5, kEnds, kNoFraming);
  near(floor_r(floor, fill, inches(16.7)).working.us(), 53.5, kNoise);
}

// Hand derivation: R-38 of 3.5 per inch is 10.857 in. settled, 13.571 blown, rounded up to 13.75;
// all else from 13.75: 11 in., R-38.5.
TEST_CASE("top-up: the level is rounded up to a quarter inch and all else follows from it") {
  Survey survey = survey_of({loose_section({0})}, 38, 38);
  const TopUp t = run(survey).planned.low.sections[0];
  CHECK(t.status == TopUpStatus::needed);
  near(t.level_exact->us(), 38 / 3.5 / 0.8, 1e-7);
  CHECK(t.initial_level->us() == 13.75);
  near(t.settled_level->us(), 11, kNoise);
  near(t.working_r.us(), 38.5, kNoise);
  near(t.new_depth_initial->mean.us(), 13.75, kNoise);
  near(t.added_weight->us(), 2.0 * 11 / 12, kNoise);
}

// Hand derivation: R-11 over a bare 2x10 bay needs 3.93 in. blown; an open floor is filled to the
// joist top, 9.25 in., which settles to 7.4.
TEST_CASE("top-up: on an open floor the level is never below the joist top") {
  Section s = loose_section({0});
  s.joists->size = "2x10";
  const TopUp t = run(survey_of({s}, 11, 38)).planned.low.sections[0];
  near(t.level_exact->us(), 11 / 3.5 / 0.8, 1e-7);
  CHECK(t.initial_level->us() == 9.25);
  near(t.settled_level->us(), 7.4, kNoise);
}

// Hand derivation: 8.1 in. of headroom: 6.48 settled, R-22.68; a deck on 2x6 joists stops
// at 5.5: 4.4, R-15.4; the chart ends at 15.8 blown, which is its row of R-49.
TEST_CASE("top-up: headroom, deck and chart each limit the level and are named") {
  Section low = loose_section({0}), deck = loose_section({0});
  low.headroom = inches(8.1);
  deck.kind = SectionKind::decked;
  const auto check = [](const TopUp& t, LimitedBy by, double level, double r) {
    CHECK(t.status == TopUpStatus::unreachable);
    CHECK(t.limited_by == by);
    near(t.initial_level->us(), level, kNoise);
    near(t.working_r.us(), r, kNoise);
  };
  check(run(survey_of({low})).planned.low.sections[0], LimitedBy::headroom, 8.1, 22.68);
  check(run(survey_of({deck})).planned.low.sections[0], LimitedBy::deck, 5.5, 15.4);
  check(run(with_chart(survey_of({loose_section({0})}, 38, 60))).planned.high.sections[0],
        LimitedBy::chart, 15.8, 49);
  CHECK(
      run(with_chart(survey_of({loose_section({0})}, 38, 60))).planned.low.sections[0].limited_by ==
      LimitedBy::nothing);
}

// Hand derivation: the lowest spot takes the thickest new layer and meets the chart's end first: 2
// + 15.8 = 17.8 over 2 and 6 in.
TEST_CASE("top-up: the chart ends where the lowest spot reaches its last row") {
  const TopUp t =
      run(with_chart(survey_of({loose_section({2, 6})}, 90, 90))).planned.low.sections[0];
  CHECK(t.limited_by == LimitedBy::chart);
  near(t.initial_level->us(), 17.8, kNoise);
}

// Hand derivation: 12 in. of R-3.5 is R-42: R-38 is met with nothing added, R-49 is not. Effective:
// 42 + 1.52 less what the joists take.
TEST_CASE("top-up: a target already met adds nothing") {
  const WholeSection s = section_of(run(survey_of({loose_section({12})}, 38, 49)));
  CHECK(s.low.status == TopUpStatus::met);
  CHECK(*s.low.bags == 0.0);
  CHECK_FALSE(s.low.initial_level.has_value());
  near(s.low.working_r.us(), 42, kNoise);
  CHECK(s.high.status == TopUpStatus::needed);
}

// Hand derivation: under a deck the wood stays as it is, so U cannot fall below f / R_joist: 2x4
// (3.5 in. = R-4.375) at 12 in. under ends of 1.52, f = 0.125: R_joist 5.895, effective R
// below 5.895 / 0.125 = 47.16 however deep the fill.
TEST_CASE("top-up: an effective target beyond what the joists under a deck allow has no level") {
  BaseFloor floor;
  floor.ends = {r_value(1.06), r_value(0.46)};
  floor.framing = {0.125, inches(3.5), r_per_inch(1.25)};
  floor.under_deck = true;
  floor.spots = {{1.0, inches(3), r_value(1.52 + 10.5), r_value(1.52 + 4.375), {}}};
  NewFill fill;
  fill.rho = r_per_inch(3.5);
  fill.settling = 0.2;
  CHECK_FALSE(level_for(floor, fill, Basis::effective, r_value(48)).has_value());
  CHECK(level_for(floor, fill, Basis::effective, r_value(40)).has_value());
  CHECK(level_for(floor, fill, Basis::working, r_value(60)).has_value());
}
