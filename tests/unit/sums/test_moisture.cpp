// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"
#include "overjoist/moisture.hpp"

using namespace fixtures;

namespace {

Temperature f(double degrees) { return Temperature::from_f(degrees); }
Permeance perm(double value) { return Permeance::from_us(value); }
double dew_f(double degrees, double rh) { return dew_point(vapour_pressure(f(degrees), rh)).f(); }

/// Rooms at 70 F and 40 %, an attic at 10 F; the plane lies at `below` of R-40.
std::optional<PlaneVerdict> verdict_at(double below, std::optional<Permeance> permeance = {}) {
  return plane_verdict({f(70), 0.40, f(10)}, {r_value(below), r_value(40), permeance});
}

std::vector<VapourLayer> ceiling_layers() {
  return {{r_value(0.61), {}},
          {r_value(0), perm(5)},
          {r_value(0.45), perm(50)},
          {r_value(38), perm(116.0 / 12)},
          {r_value(0.61), {}}};
}

}  // namespace

// Hand derivation: 32 F is 0 C and 212 F 100 C by definition; -40 is the same on both scales.
TEST_CASE("moisture: Fahrenheit and Celsius") {
  near(f(32).c(), 0, kNoise);
  near(Temperature::from_c(100).f(), 212, kNoise);
  near(Temperature::from_c(-40).f(), -40, kNoise);
}

// Source: tests/reference/SOURCES.md#saturation: the ISO column to half its last digit, and the
// handbook's form from memory beside it: within 1.1 % at the coldest row, 0.15 % from 0 C up, as
// the header says.
TEST_CASE("moisture: saturation pressure over ice and over water") {
  struct Row {
    double c, iso_pa, hyland_wexler_pa;
  };
  const Row rows[] = {{-30, 37.62, 38.02},   {-20, 102.74, 103.26},  {-10, 259.33, 259.90},
                      {0, 610.50, 611.21},   {10, 1227.31, 1228.00}, {20, 2336.95, 2338.80},
                      {30, 4240.51, 4246.03}};
  for (const Row& row : rows) {
    CAPTURE(row.c);
    const double pa = saturation_pressure(Temperature::from_c(row.c)).si();
    near(pa, row.iso_pa, 0.005);
    near(pa / row.hyland_wexler_pa, 1, row.c >= 0 ? 0.0015 : 0.011);
  }
}

// Source: tests/reference/SOURCES.md#saturation: dew points of four rooms, computed from the form;
// half the last digit.
TEST_CASE("moisture: dew points of usual rooms") {
  near(dew_f(70, 0.30), 37.18, 0.005);
  near(dew_f(70, 0.40), 44.59, 0.005);
  near(dew_f(70, 0.50), 50.52, 0.005);
  near(dew_f(68, 0.35), 39.36, 0.005);
}

// Invariant: the dew point undoes saturation on both branches and at 610.5 Pa, where they meet;
// pressure rises with temperature.
TEST_CASE("moisture: dew point is the inverse of saturation, across the branch") {
  double last = 0;
  for (double c : {-60.0, -30.0, -1.0, -1e-6, 0.0, 1e-6, 1.0, 20.0, 80.0}) {
    const Pressure p = saturation_pressure(Temperature::from_c(c));
    near(dew_point(p).c(), c, kNoise);
    CHECK(p.si() > last);
    last = p.si();
  }
  near(dew_point(Pressure::from_si(610.5)).f(), 32, kNoise);
}

// Hand derivation: tests/reference/SOURCES.md#buried-facing: at 16 of R-40 the plane has 70 -
// 60·0.4 = 46 F, above the dew point of 44.59; at 18 of 40 70 - 27 = 43, below it. The limit
// is 25.41/60 = 0.4235; half its last digit.
TEST_CASE("moisture: a buried facing is safe while R below it stays under 0.42 of the whole") {
  const PlaneVerdict safe = *verdict_at(16), wet = *verdict_at(18);
  near(safe.plane.f(), 46, kNoise);
  near(wet.plane.f(), 43, kNoise);
  CHECK_FALSE(safe.wet_risk);
  CHECK(wet.wet_risk);
  near(wet.safe_share, 0.4235, 0.00005);
  CHECK_FALSE(verdict_at(40 * 0.4234)->wet_risk);
  CHECK(verdict_at(40 * 0.4236)->wet_risk);
}

// Source: tests/reference/SOURCES.md#vapour-profile: classes I to 0.1 perm, II to 1, III to 10.
// Invariant: only a plane of 1 perm or less, or of unknown permeance, is a risk where it is cold.
TEST_CASE(
    "moisture: what lets vapour through is no risk, and an unknown facing is taken to be tight") {
  CHECK(vapour_class(perm(0.1)) == VapourClass::one);
  CHECK(vapour_class(perm(0.11)) == VapourClass::two);
  CHECK(vapour_class(perm(1)) == VapourClass::two);
  CHECK(vapour_class(perm(1.01)) == VapourClass::three);
  CHECK(vapour_class(perm(10)) == VapourClass::three);
  CHECK(vapour_class(perm(10.1)) == VapourClass::open);
  CHECK(verdict_at(30)->wet_risk);
  CHECK(verdict_at(30, perm(0.06))->wet_risk);
  CHECK(verdict_at(30, perm(1))->wet_risk);
  CHECK_FALSE(verdict_at(30, perm(5))->wet_risk);
  CHECK(verdict_at(30, perm(5))->below_dew_point);
  CHECK_FALSE(verdict_at(10, perm(0.06))->wet_risk);
}

// Invariant: nothing is assumed: each of the three figures must be given.
TEST_CASE("moisture: no verdict unless rooms, humidity and attic are all given") {
  const TightPlane plane = {r_value(18), r_value(40), {}};
  CHECK_FALSE(plane_verdict({}, plane));
  CHECK_FALSE(plane_verdict({f(70), 0.4, {}}, plane));
  CHECK_FALSE(plane_verdict({f(70), {}, f(10)}, plane));
  CHECK_FALSE(plane_verdict({{}, 0.4, f(10)}, plane));
  CHECK(plane_verdict({f(70), 0.4, f(10)}, plane));
}

// Hand derivation: an attic warmer than the dew point is safe at any height, and saturated rooms
// (dew point = room) at none.
TEST_CASE("moisture: the safe share runs from 0 to 1") {
  const TightPlane top = {r_value(40), r_value(40), {}};
  CHECK(plane_verdict({f(70), 0.4, f(50)}, top)->safe_share == 1.0);
  CHECK_FALSE(plane_verdict({f(70), 0.4, f(50)}, top)->wet_risk);
  near(plane_verdict({f(70), 1.0, f(10)}, top)->safe_share, 0, kNoise);
  CHECK(plane_verdict({f(70), 0.4, f(95)}, top)->safe_share == 1.0);  // summer
}

// Source: tests/reference/SOURCES.md#vapour-profile: temperature, pressure, saturation and humidity
// at each plane, and both fluxes; half the last digit.
TEST_CASE("moisture: the vapour profile of a painted ceiling under R-38") {
  struct Row {
    double t_f, vapour, saturation, rh;
  };
  const Row rows[] = {{70.00, .2956, .7390, .40},
                      {69.08, .2956, .7161, .41},
                      {69.08, .1439, .7161, .20},
                      {68.40, .1287, .6996, .18},
                      {10.92, .0502, .0657, .76}};
  std::vector<VapourLayer> layers = ceiling_layers();
  const VapourProfile profile = vapour_profile({f(70), 0.40}, {f(10), 0.80}, layers);
  REQUIRE(profile.planes.size() == 6);
  for (std::size_t i = 0; i < std::size(rows); ++i) {
    CAPTURE(i);
    near(profile.planes[i].t.f(), rows[i].t_f, 0.005);
    near(profile.planes[i].vapour.us(), rows[i].vapour, 0.00005);
    near(profile.planes[i].saturation.us(), rows[i].saturation, 0.00005);
    near(profile.planes[i].rh(), rows[i].rh, 0.005);
  }
  near(profile.flux_gr_h_ft2, 0.759, 0.0005);
  layers.insert(layers.begin() + 3, {r_value(0), perm(1)});  // kraft under the fill
  near(vapour_profile({f(70), 0.40}, {f(10), 0.80}, layers).flux_gr_h_ft2, 0.185, 0.0005);
}

// Invariant: a profile begins in the rooms' air and ends in the attic's.
TEST_CASE("moisture: a profile ends at the attic's own air") {
  const VapourPlane last =
      vapour_profile({f(70), 0.40}, {f(10), 0.80}, ceiling_layers()).planes.back();
  near(last.t.f(), 10, kNoise);
  near(last.rh(), 0.80, kNoise);
}

// Hand derivation: each range stands in the header.
TEST_CASE("moisture: what cannot be is refused") {
  const double nan = std::nan("");
  CHECK_THROWS_WITH_AS(saturation_pressure(f(200)), doctest::Contains("temperature (F) of 200"),
                       Error);
  CHECK_THROWS_AS(saturation_pressure(f(nan)), Error);
  CHECK_THROWS_WITH_AS(dew_point(Pressure::from_si(0)), doctest::Contains("vapour pressure"),
                       Error);
  CHECK_THROWS_AS(dew_point(Pressure::from_si(1e6)), Error);
  for (double rh : {0.0, -0.1, 1.01, 40.0, nan})
    CHECK_THROWS_WITH_AS(vapour_pressure(f(70), rh), doctest::Contains("humidity"), Error);
  CHECK_THROWS_WITH_AS(plane_temperature(f(70), f(10), r_value(41), r_value(40)),
                       doctest::Contains("below the plane"), Error);
  CHECK_THROWS_WITH_AS(plane_temperature(f(70), f(10), r_value(0), r_value(0)),
                       doctest::Contains("total R"), Error);
  CHECK_THROWS_WITH_AS(plane_temperature(f(70), f(nan), r_value(1), r_value(2)),
                       doctest::Contains("temperature difference"), Error);
  CHECK_THROWS_WITH_AS(vapour_class(perm(-1)), doctest::Contains("permeance"), Error);
  const VapourLayer films[] = {{r_value(0.61), {}}}, zero[] = {{r_value(0.61), perm(0)}},
                    negative[] = {{r_value(-1), perm(1)}};
  CHECK_THROWS_WITH_AS(vapour_profile({f(70), 0.4}, {f(10), 0.8}, films),
                       doctest::Contains("resistance to vapour"), Error);
  CHECK_THROWS_WITH_AS(vapour_profile({f(70), 0.4}, {f(10), 0.8}, zero),
                       doctest::Contains("above 0"), Error);
  CHECK_THROWS_WITH_AS(vapour_profile({f(70), 0.4}, {f(10), 0.8}, negative),
                       doctest::Contains("0 or more"), Error);
}
