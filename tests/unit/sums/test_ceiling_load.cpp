// SPDX-License-Identifier: MIT
#include "overjoist/ceiling_load.hpp"

#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

MassPerArea weight(double v) { return MassPerArea::from_us(v); }

/// 12 in. of new fill of 1.2 to 2.4 lb/ft3 over `found`, so 1.2 to 2.4 lb/ft2 of it.
CeilingLoad load_of(double found_low, double found_high, double limit) {
  return {weight(found_low), weight(found_high), weight(1.2),
          weight(2.4),       inches(12),         weight(limit)};
}

}  // namespace

// Hand derivation: 0.2 to 0.4 lb/ft2 found and 1.2 to 2.4 to come: 1.4 to 2.8. A limit of 2.8 holds
// all of it, 2.2 what is lighter than (2.2 - 0.4)·12/12 = 1.8 lb/ft3, 1.3 none of it. 2.8/2.2 =
// 1.2727.
TEST_CASE("ceiling load: within, depends on the bag, or over at any density") {
  const WeightVerdict in = weight_verdict(load_of(0.2, 0.4, 2.8));
  CHECK(in.fit == WeightFit::within);
  near(in.high_over_limit, 1, kNoise);
  const WeightVerdict between = weight_verdict(load_of(0.2, 0.4, 2.2));
  CHECK(between.fit == WeightFit::depends);
  REQUIRE(between.passes_below);
  near(between.passes_below->us(), 1.8, kNoise);
  near(between.low_over_limit, 1.4 / 2.2, kNoise);
  near(between.high_over_limit, 2.8 / 2.2, kNoise);
  CHECK(weight_verdict(load_of(0.2, 0.4, 1.3)).fit == WeightFit::over);
}

// Hand derivation: with nothing found the density is limit·12/depth: 2.2·12/10 = 2.64.
TEST_CASE("ceiling load: the density that just passes is the limit over the depth") {
  CeilingLoad load = load_of(0, 0, 2.2);
  load.depth = inches(10);
  near(weight_verdict(load).passes_below->us(), 2.64, kNoise);
}

// Symptom: a lighter fill was named for a weight that lies there already. Invariant: no density is
// named where nothing comes, or where what stays takes all of the limit.
TEST_CASE("ceiling load: no lighter fill is named for what lies there") {
  CeilingLoad still{weight(1), weight(2), {}, {}, {}, weight(1.5)};
  CHECK(weight_verdict(still).fit == WeightFit::depends);
  CHECK_FALSE(weight_verdict(still).passes_below);
  CHECK_FALSE(weight_verdict(load_of(1, 2, 2)).passes_below);
  still.limit = weight(0.5);
  CHECK(weight_verdict(still).fit == WeightFit::over);
}

// Invariant: the header's ranges, each refused by name.
TEST_CASE("ceiling load: weights out of range are refused by name") {
  const auto refused = [](CeilingLoad load, const char* words) {
    CHECK_THROWS_WITH_AS(weight_verdict(load), doctest::Contains(words), Error);
  };
  refused(load_of(-1, 0, 2), "weight found");
  refused(load_of(1, 0.5, 2), "high weight found");
  refused(load_of(0, 0, 0), "limit");
  CeilingLoad load = load_of(0, 0, 2);
  load.added_low = weight(-1);
  refused(load, "weight added");
  load.added_low = weight(3);
  refused(load, "high weight added");
  load = load_of(0, 0, 2);
  load.depth = inches(-1);
  refused(load, "depth");
}
