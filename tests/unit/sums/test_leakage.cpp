// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "fixtures.hpp"
#include "overjoist/leakage.hpp"

using namespace fixtures;

namespace {

constexpr double kExponent = 0.65, kSeaLevelHeat = 1.08, kMillion = 1e6;

/// One square inch, 8 ft above the neutral level of a house at 70 F: the path of the reference
/// figures.
LeakPath square_inch_path() {
  return {square_inches(1), {70.0, inches(96)}, kExponent, kSeaLevelHeat};
}

}  // namespace

// Source: tests/reference/SOURCES.md#leak-flow, printed to three decimals at 4 Pa and two at 50 Pa:
// half the last digit.
TEST_CASE("leakage: one square inch passes 3.530 cfm at 4 Pa and 18.23 cfm at 50 Pa") {
  near(leak_flow_cfm(square_inches(1), 4, kExponent), 3.530, 0.0005);
  near(leak_flow_cfm(square_inches(1), 50, kExponent), 18.23, 0.005);
  near(1 / leak_flow_cfm(square_inches(1), 50, kExponent), 0.0549, 0.00005);
  near(2.0 / leak_flow_cfm(square_inches(1), 75, kExponent), 0.084,
       0.0005);  // a light of 2.0 cfm at 75 Pa, in in2
  CHECK(leak_flow_cfm(square_inches(1), 0, kExponent) == 0.0);
}

// Invariant: flow is proportional to the area; 1 in2 is 6.4516 cm2 exactly.
TEST_CASE("leakage: flow goes with the area, in inches or in centimetres") {
  const double one = leak_flow_cfm(square_inches(1), 10, kExponent);
  near(leak_flow_cfm(square_inches(7), 10, kExponent), 7 * one, kNoise);
  near(leak_flow_cfm(Area::from_si(6.4516e-4), 10, kExponent), one, kNoise);
}

// Source: tests/reference/SOURCES.md#stack, four rows printed to 0.001 Pa and 0.001 cfm: half the
// last digit.
TEST_CASE("leakage: stack pressure and flow of a square inch 8 ft above the neutral level") {
  struct Row {
    double outdoor_f, pascal, cfm;
  };
  for (const Row& row : {Row{50, 1.122, 1.545}, Row{30, 2.335, 2.488}, Row{10, 3.652, 3.327},
                         Row{-10, 5.086, 4.126}}) {
    const double pascal = stack_pressure_pa({70.0, inches(96)}, row.outdoor_f);
    near(pascal, row.pascal, 0.0005);
    near(leak_flow_cfm(square_inches(1), pascal, kExponent), row.cfm, 0.0005);
  }
}

// Invariant: no stack without a difference or a height, none in a warm spell; half the height is
// half the pressure.
TEST_CASE("leakage: the stack vanishes without height or cold") {
  CHECK(stack_pressure_pa({70.0, inches(96)}, 70) == 0.0);
  CHECK(stack_pressure_pa({70.0, inches(96)}, 95) == 0.0);
  CHECK(stack_pressure_pa({70.0, inches(0)}, 10) == 0.0);
  near(2 * stack_pressure_pa({70.0, inches(48)}, 10), stack_pressure_pa({70.0, inches(96)}, 10),
       kNoise);
}

// Source: tests/reference/SOURCES.md#leak-heat: mean 40 F, sd 18 F, 1 in2, rooms at 70 F, heated
// below 65 F: 0.707 MMBtu by bins, counted from the rooms; from 9,371.9 degree days at the season's
// mean of 37.0 F 0.528 (three digits each: half the last). Hand derivation of the degree days from
// the rooms: z = 25/18 = 1.3889, Phi(z) = .917567, phi(z) = .152064;
// 365 (25 x .917567 + 18 x .152064) = 9,371.9, and 5 F over 365 x .917567 days more: 11,046.5.
TEST_CASE("leakage: yearly heat of a square inch by bins and from degree days") {
  const double by_bins = leak_heat_by_bins(square_inch_path(), {40, 18}, 65).us() / kMillion;
  near(by_bins, 0.707, 0.0005);
  near(leak_heat_simple(square_inch_path(), 9371.9, 37.0).us() / kMillion, 0.528, 0.0005);
  const double simple = leak_heat_simple(square_inch_path(), 11046.5, 37.0).us() / kMillion;
  near(simple / by_bins, 0.528 * 11046.5 / 9371.9 / 0.707, 0.0015);  // half of either last digit
}

// Source: tests/reference/SOURCES.md#leak-flow: 0.0549 in2 for each cfm at 50 Pa, four digits.
TEST_CASE("leakage: a blower door's flow tells the leakage area") {
  near(in_square_inches(tested_leakage_area(1400, kExponent)), 1400 * 0.0549, 1400 * 0.00005);
  CHECK_THROWS_AS(tested_leakage_area(-1, kExponent), Error);
}

// Independent: the same integral by the density of the normal law and steps of 0.01 F, in the test,
// of Q = A sqrt(Cs dT + Cw V^2). Bound: as of the leak's bins below. Invariants: heat goes with the
// area; by degree days the flow at the season's mean stands for all of it, a little too low.
TEST_CASE("leakage: heat of a tested house by the whole-house form") {
  const TestedHouse house{square_inches(77), 70, 6.7, {0.015, 0.0065}, 1.08};
  double btu = 0;
  for (int i = 0; i < 20000; ++i) {
    const double t = 65 - 0.01 * (i + 0.5), z = (t - 40) / 18;
    const double hours =
        8760 * 0.01 * std::exp(-z * z / 2) / (18 * std::sqrt(2 * 3.14159265358979));
    btu += 1.08 * 77 * std::sqrt(0.015 * (70 - t) + 0.0065 * 6.7 * 6.7) * (70 - t) * hours;
  }
  near(house_heat_by_bins(house, {40, 18}, 65).us() / btu, 1, 1 / (12.0 * 18 * 18));
  TestedHouse half = house;
  half.ela = house.ela / 2.0;
  near(house_heat_by_bins(half, {40, 18}, 65).us() * 2 / btu, 1, 1 / (12.0 * 18 * 18));
  const double simple = house_heat_simple(house, 11046.5, 37.0).us();
  CHECK(simple < btu);
  near(simple, 24 * 11046.5 * 1.08 * 77 * std::sqrt(0.015 * 33 + 0.0065 * 6.7 * 6.7),
       simple * kNoise);
}

// Independent: the same integral by the density of the normal law and steps of 0.01 F, in the test.
// Bound: a bin's middle stands for a bin of 1 F, which is off by about (bin/sd)^2/12 of the whole.
TEST_CASE("leakage: bins agree with the integral over the normal law") {
  for (const OutdoorNormal& outdoor :
       {OutdoorNormal{40, 18}, OutdoorNormal{55, 12}, OutdoorNormal{25, 22}}) {
    double btu = 0;
    for (int i = 0; i < 20000; ++i) {
      const double t = 65 - 0.01 * (i + 0.5), z = (t - outdoor.mean_f) / outdoor.sd_f;
      const double hours =
          8760 * 0.01 * std::exp(-z * z / 2) / (outdoor.sd_f * std::sqrt(2 * 3.14159265358979));
      btu += 1.08 *
             leak_flow_cfm(square_inches(1), stack_pressure_pa({70.0, inches(96)}, t), kExponent) *
             (70 - t) * hours;
    }
    near(leak_heat_by_bins(square_inch_path(), outdoor, 65).us() / btu, 1,
         1 / (12 * outdoor.sd_f * outdoor.sd_f));
  }
}

// Source: tests/reference/SOURCES.md#altitude, psia and ratios printed to four decimals: half the
// last digit.
TEST_CASE("leakage: air pressure and heat of air by elevation") {
  struct Row {
    double feet, psia, ratio, heat;
  };
  for (const Row& row : {Row{0, 14.6960, 1, 1.0800}, Row{5000, 12.2278, 0.8321, 0.8986},
                         Row{5800, 11.8662, 0.8074, 0.8720}, Row{10000, 10.1066, 0.6877, 0.7427}}) {
    near(air_pressure_psia(row.feet), row.psia, 0.00005);
    near(air_pressure_ratio(row.feet), row.ratio, 0.00005);
    near(air_heat_factor(row.feet), row.heat, 0.00005);
  }
}

// Source: tests/reference/SOURCES.md#whole-house: form published, coefficients from memory (one
// storey, shelter classes 3 and 4). Hand derivation: 77 sqrt(.0150 x 67 + .0065 x 44.89) = 77
// sqrt(1.296785) = 87.68; with .0039: 77 sqrt(1.180071) = 83.65. Half the last digit.
TEST_CASE("leakage: the whole-house form gives 87.68 and 83.65 cfm in two shelters") {
  near(whole_house_flow_cfm(square_inches(77), {67, 6.7}, {0.0150, 0.0065}), 87.68, 0.005);
  near(whole_house_flow_cfm(square_inches(77), {67, 6.7}, {0.0150, 0.0039}), 83.65, 0.005);
}

// Invariant: what cannot be is refused, NaN too.
TEST_CASE("leakage: figures out of range are refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  LeakPath no_heat = square_inch_path();
  no_heat.air_heat = 0;
  CHECK_THROWS_AS(leak_flow_cfm(square_inches(1), -1, kExponent), Error);
  CHECK_THROWS_AS(leak_flow_cfm(square_inches(1), nan, kExponent), Error);
  CHECK_THROWS_AS(leak_flow_cfm(square_inches(-1), 4, kExponent), Error);
  CHECK_THROWS_AS(leak_flow_cfm(square_inches(1), 4, 0.4), Error);
  CHECK_THROWS_AS(stack_pressure_pa({70.0, inches(-1)}, 30), Error);
  CHECK_THROWS_AS(stack_pressure_pa({70.0, inches(96)}, nan), Error);
  CHECK_THROWS_AS(leak_heat_by_bins(square_inch_path(), {40, 0}, 65), Error);
  CHECK_THROWS_AS(leak_heat_by_bins(square_inch_path(), {nan, 18}, 65), Error);
  CHECK_THROWS_AS(leak_heat_by_bins(no_heat, {40, 18}, 65), Error);
  CHECK_THROWS_AS(leak_heat_simple(square_inch_path(), -1, 37), Error);
  CHECK_THROWS_AS(leak_heat_simple(no_heat, 9000, 37), Error);
  CHECK_THROWS_AS(whole_house_flow_cfm(square_inches(1), {-10, 0}, {0.015, 0.0065}), Error);
  CHECK_THROWS_AS(air_pressure_ratio(40000), Error);
  CHECK_THROWS_AS(air_pressure_ratio(nan), Error);
}
