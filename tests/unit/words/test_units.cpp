// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

// Hand derivation: tests/reference/SOURCES.md#exact-units; 1 in. = 25.4 mm, 1 lb = 0.45359237 kg
// and 1 Btu(IT) = 1055.05585262 J are exact; a tolerance of 1e-12 of the value is rounding noise.
TEST_CASE("units: factors follow from the exact definitions") {
  const double ft = 0.3048, btu = 1055.05585262, lb = 0.45359237, deg = 5.0 / 9.0;
  near(r_value(1).si(), deg * ft * ft / (btu / 3600), 1e-12);
  near(Transmittance::from_us(1).si(), btu / 3600 / (deg * ft * ft), 1e-11);
  near(r_per_inch(1).si(), deg * ft * ft / (btu / 3600) / 0.0254, 1e-11);
  near(Density::from_us(1).si(), lb / (ft * ft * ft), 1e-11);
  near(MassPerArea::from_us(1).si(), lb / (ft * ft), 1e-11);
  near(Conductance::from_us(1).si(), btu / 3600 / deg, 1e-12);
}

// Source: tests/reference/SOURCES.md#exact-units; 5.678 as commonly printed, half its last digit.
TEST_CASE("units: U of 1 is printed as 5.678 W per m2 K") {
  near(Transmittance::from_us(1).si(), 5.678, 0.0005);
}

// Invariant: what goes in as SI comes out as SI; noise of two roundings.
TEST_CASE("units: SI in and out is the same figure") {
  for (double v : {0.001, 0.115, 1.0, 8.6, 1234.5}) {
    near(Length::from_si(v).si(), v, 1e-12 * v);
    near(Resistance::from_si(v).si(), v, 1e-12 * v);
    near(Mass::from_si(v).si(), v, 1e-12 * v);
    near(Volume::from_si(v).si(), v, 1e-12 * v);
  }
}

// Hand derivation: 12 in. over 1 ft2 is 1 ft3, so 2 lb/ft3 x 6 in. = 1 lb/ft2, and 10 ft2 x 6 in. =
// 5 ft3; small whole numbers, exact.
TEST_CASE("units: products of depth with density and area go by feet") {
  CHECK((Density::from_us(2) * inches(6)).us() == 1.0);
  CHECK((square_feet(10) * inches(6)).us() == 5.0);
  CHECK((MassPerArea::from_us(1.5) * square_feet(4)).us() == 6.0);
  CHECK((r_per_inch(3.5) * inches(4)).us() == 14.0);
  CHECK((r_value(14) / inches(4)).us() == 3.5);
  CHECK((inverse(r_value(4)) * square_feet(8)).us() == 2.0);
}

// Hand derivation: multiples by eye; the slack is 1e-9 of the count, so 4.0000000001 quarters are 4
// and 4.00000001 are 5.
TEST_CASE("units: rounding up and down keeps to the step, with its slack") {
  CHECK(round_up(3.01, 0.25) == 3.25);
  CHECK(round_up(3.25, 0.25) == 3.25);
  CHECK(round_up(51.2, 1.0) == 52.0);
  CHECK(round_up(4.0000000001, 1.0) == 4.0);
  CHECK(round_up(4.00000001, 1.0) == 5.0);
  CHECK(round_up(0.0, 0.25) == 0.0);
  CHECK(round_down(3.24, 0.25) == 3.0);
  CHECK(round_down(3.25, 0.25) == 3.25);
  CHECK(round_down(3.9999999999, 1.0) == 4.0);
  CHECK(round_down(3.99999999, 1.0) == 3.0);
}

// Hand derivation: the same slack of 1e-9; 38 less 1e-8 is 2.6e-10 of 38 short, 38 less 1e-6
// is 2.6e-8 short.
TEST_CASE("units: a goal counts as reached within the slack and not below it") {
  CHECK(reaches(38.0, 38.0));
  CHECK(reaches(38.0 - 1e-8, 38.0));
  CHECK_FALSE(reaches(38.0 - 1e-6, 38.0));
  CHECK(reaches(0.0, 0.0));
}
