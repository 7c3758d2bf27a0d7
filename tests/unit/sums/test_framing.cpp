// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

const PathEnds kBoth = {r_value(0.61 + 0.45), r_value(0.46)};

}  // namespace

// Hand derivation: 0.9/20 + 0.1/5 = 0.045 + 0.02 = 0.065, exact.
TEST_CASE("framing: joists at 10 % of the area raise U from 0.050 to 0.065") {
  const Path paths[] = {{0.9, r_value(20)}, {0.1, r_value(5)}};
  near(u_of_paths(paths).us(), 0.065, kNoise);
}

// Hand derivation: a path needs a positive R.
TEST_CASE("framing: a path without R is refused") {
  const Path zero[] = {{0.9, r_value(20)}, {0.1, r_value(0)}};
  const Path nan[] = {{1.0, r_value(std::nan(""))}};
  CHECK_THROWS_WITH_AS(u_of_paths(zero), doctest::Contains("not above 0"), Error);
  CHECK_THROWS_AS(u_of_paths(nan), Error);
}

// Source: tests/reference/SOURCES.md#lumber: actual depths of nominal lumber; width 1.5 in.
TEST_CASE("framing: nominal lumber has its actual size") {
  const std::pair<const char*, double> rows[] = {
      {"2x4", 3.5}, {"2x6", 5.5}, {"2x8", 7.25}, {"2x10", 9.25}, {"2x12", 11.25}};
  for (const auto& [nominal, depth] : rows) {
    const auto size = actual_size(nominal);
    REQUIRE(size);
    CHECK(size->width.us() == 1.5);
    CHECK(size->depth.us() == depth);
  }
  for (const char* unknown : {"", "2x", "x6", "2x7", "26", "2x6x8", "5x6"})
    CHECK_FALSE(actual_size(unknown));
}

// Invariant: without framing both paths, the planes and the section are the plain assembly, to the
// bit.
TEST_CASE("framing: fraction 0 equals the plain assembly") {
  const std::vector<BuiltLayer> layers = {loose_layer(3.5)};
  const SpotPaths p = paths_at(kBoth, framing_of(0, 5.5), layers, 8);
  CHECK(p.bay.us() == kBoth.both().us() + 28.0);
  CHECK(p.joist == p.bay);
  CHECK(p.planes == p.bay);
  CHECK(parallel(framing_of(0, 5.5), p) == inverse(p.bay));
}

// Hand derivation: 2 in. of between joists of 5.5 in.: bay 1.52 + 7 = 8.52; the wood counts
// for 2 in.: 1.52 + 2.5 = 4.02. At 8 in.: bay 29.52, joist 1.52 + 6.875 + 2.5 x 3.5 = 17.145.
TEST_CASE(
    "framing: an exposed joist counts up to the surface, a covered one whole with what lies "
    "above") {
  const std::vector<BuiltLayer> layers = {loose_layer(3.5)};
  const Framing f = framing_of(1.5 / 16, 5.5);
  const SpotPaths thin = paths_at(kBoth, f, layers, 2), deep = paths_at(kBoth, f, layers, 8),
                  bare = paths_at(kBoth, f, layers, 0);
  near(thin.bay.us(), 8.52, kNoise);
  near(thin.joist.us(), 4.02, kNoise);
  near(deep.bay.us(), 29.52, kNoise);
  near(deep.joist.us(), 17.145, kNoise);
  near(bare.bay.us(), 1.52, kNoise);
  near(bare.joist.us(), 1.52, kNoise);
  near(parallel(f, deep).us(), 0.09375 / 17.145 + 0.90625 / 29.52, kNoise);
}

// Hand derivation: under a deck the joist touches it: 1.52 + 5.5 x 1.25 = 8.395 whatever the fill.
TEST_CASE("framing: under a deck the joist counts whole") {
  const std::vector<BuiltLayer> layers = {loose_layer(3.5)};
  for (double depth : {0.0, 2.0, 5.5})
    near(paths_at(kBoth, framing_of(0.1, 5.5), layers, depth, true).joist.us(), 8.395, kNoise);
}

// Hand derivation: R-30 of 10 in. cut between joists of 5.5 in. leaves their tops bare: joist 1.52
// + 6.875 = 8.395, bay 31.52.
TEST_CASE("framing: a batt thicker than the joist gives the joist nothing above its top") {
  const std::vector<BuiltLayer> layers = {batt_layer(30, 10)};
  const SpotPaths p = paths_at(kBoth, framing_of(0.1, 5.5), layers, 10);
  near(p.bay.us(), 31.52, kNoise);
  near(p.joist.us(), 8.395, kNoise);
}

// Hand derivation: R-19 between and R-11 across joists of 6.25 in.: bay 1.52 + 30; joist 1.52
// + 7.8125 + 11 = 20.3325. Over bays that hold only 3 in. of the wood counts for 3 in., and
// the gap for nothing: bay 1.52 + 10.5 + 11, joist 1.52 + 3.75 + 11.
TEST_CASE("framing: a batt across covers joist and bay alike") {
  const std::vector<BuiltLayer> full = {batt_layer(19, 6.25), batt_layer(11, 3.5, Lies::across)};
  const SpotPaths a = paths_at(kBoth, framing_of(0.1, 6.25), full, 9.75);
  near(a.bay.us(), 31.52, kNoise);
  near(a.joist.us(), 20.3325, kNoise);
  const std::vector<BuiltLayer> gap = {loose_layer(3.5, 3), batt_layer(11, 3.5, Lies::across)};
  const SpotPaths b = paths_at(kBoth, framing_of(0.1, 6.25), gap, 6.5);
  near(b.bay.us(), 23.02, kNoise);
  near(b.joist.us(), 16.27, kNoise);
}

// Invariant: isothermal planes <= ISO mean <= parallel path, as two bounds and their mean must
// stand.
TEST_CASE("framing: planes, mean and parallel path keep their order") {
  const std::vector<BuiltLayer> layers = {loose_layer(3.5)};
  for (double depth = 0; depth <= 20; depth += 0.5) {
    const Framing f = framing_of(0.1, 5.5);
    const SpotPaths p = paths_at(kBoth, f, layers, depth);
    const double upper = inverse(parallel(f, p)).us(),
                 mean = inverse(iso_mean(parallel(f, p), p)).us();
    CHECK(p.planes.us() <= mean + kNoise);
    CHECK(mean <= upper + kNoise);
    near(mean, (upper + p.planes.us()) / 2, kNoise);
  }
}

// Source: tests/reference/SOURCES.md#iso-6946: timber-framed wall, SI inputs and path sums
// published; R', bridged layer, R'' and R_T computed from them; half the last digit. The layer is
// taken 100 mm thick, which cancels out.
TEST_CASE("framing: the ISO 6946 worked example, SI in and out") {
  const double h = 0.1;
  const PathEnds ends = {Resistance::from_si(0.130 + 0.100),
                         Resistance::from_si(0.146 + 0.090 + 0.132 + 0.040)};
  const Framing studs = {0.095, Length::from_si(h), Resistivity::from_si(1.077 / h)};
  BuiltLayer wool = loose_layer(1, 1);
  wool.rho = Resistivity::from_si(3.333 / h);
  wool.thickness = Length::from_si(h);
  const std::vector<BuiltLayer> layers = {wool};
  const SpotPaths p = spot_paths(ends, studs, layers, column_at(layers, wool.thickness), false);
  near(p.bay.si(), 3.971, 0.0005);
  near(p.joist.si(), 1.715, 0.0005);
  near(inverse(parallel(studs, p)).si(), 3.5299, 0.00005);
  near(p.planes.si() - ends.both().si(), 2.7798, 0.00005);
  near(p.planes.si(), 3.4178, 0.00005);
  near(inverse(iso_mean(parallel(studs, p), p)).si(), 3.4739, 0.00005);
  near(iso_mean(parallel(studs, p), p).si(), 0.2879, 0.00005);
}
