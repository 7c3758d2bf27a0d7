// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

Reading span(double from, double to, double share = -1.0) {
  Reading r = reading_of(from, share);
  r.depth_to = inches(to);
  return r;
}

}  // namespace

// Hand derivation: four readings, a quarter each; the span "4 to 6" gives an eighth to 4 and an
// eighth to 6. Binary fractions, exact.
TEST_CASE("readings: equal depths merge, a span is two halves of one reading") {
  const std::vector<Reading> readings = {reading_of(6), span(4, 6), reading_of(0), reading_of(4)};
  const auto spots = merge_readings(readings, inches(5.5));
  REQUIRE(spots.size() == 3);
  CHECK(spots[0].depth.us() == 0.0);
  CHECK(spots[0].share == 0.25);
  CHECK(spots[1].depth.us() == 4.0);
  CHECK(spots[1].share == 0.375);
  CHECK(spots[2].depth.us() == 6.0);
  CHECK(spots[2].share == 0.375);
  CHECK(mean_depth(spots).us() == 3.75);  // (6 + 5 + 0 + 4) / 4
}

// Hand derivation: "flush" is the joist top, here 5.5 in..
TEST_CASE("readings: flush takes the joist depth") {
  Reading flush;
  flush.flush = true;
  const auto spots = merge_readings({flush, reading_of(5.5)}, inches(5.5));
  REQUIRE(spots.size() == 1);
  CHECK(spots[0].depth.us() == 5.5);
  CHECK(spots[0].share == 1.0);
}

// Hand derivation: shares 0.5 and 0.495 add to 0.995, inside 1 +- 0.01, and are scaled to 1:
// 0.5/0.995 and 0.495/0.995.
TEST_CASE("readings: shares that nearly add to 1 are scaled") {
  const auto spots = merge_readings({reading_of(2, 0.5), reading_of(8, 0.495)}, inches(5.5));
  REQUIRE(spots.size() == 2);
  near(spots[0].share, 0.5 / 0.995, kNoise);
  near(spots[1].share, 0.495 / 0.995, kNoise);
}

// Hand derivation: 0.985 and 1.015 lie outside 1 +- 0.01.
TEST_CASE("readings: shares that do not add to 1 are refused") {
  CHECK_THROWS_WITH_AS(merge_readings({reading_of(2, 0.5), reading_of(8, 0.485)}, inches(5.5)),
                       doctest::Contains("do not add to 1"), Error);
  CHECK_THROWS_WITH_AS(merge_readings({reading_of(2, 0.5), reading_of(8, 0.515)}, inches(5.5)),
                       doctest::Contains("do not add to 1"), Error);
  CHECK_THROWS_WITH_AS(merge_readings({reading_of(2, 0.5), reading_of(8)}, inches(5.5)),
                       doctest::Contains("some do not"), Error);
}

// Invariant: two readings of one total depth but other layers are two spots; bare spots are kept,
// never dropped.
TEST_CASE("readings: layer depths keep spots apart, and bare spots stay") {
  const std::vector<Reading> readings = {reading_of_layers({2, 4}), reading_of_layers({4, 2}),
                                         reading_of_layers({2, 4}), reading_of(0)};
  const auto spots = merge_readings(readings, inches(5.5));
  REQUIRE(spots.size() == 3);
  CHECK(spots[0].depth.us() == 0.0);
  CHECK(spots[1].share == 0.5);
  CHECK(spots[2].share == 0.25);
}

// Invariant: sums run over sorted spots, so every order gives the same bits, also where equal
// depths have unequal shares. Symptom of a fault mended: equal depths with different shares were
// added in the order given; cause: the sort looked at shares only where layer depths were given.
TEST_CASE("readings: every order of shares gives identical bits") {
  std::vector<Reading> readings = {reading_of(3, 0.1), reading_of(3, 0.2), reading_of(3, 0.3),
                                   span(3, 7, 0.15), reading_of(7, 0.25)};
  const auto first = merge_readings(readings, inches(5.5));
  std::vector<std::size_t> order = {0, 1, 2, 3, 4};
  do {
    std::vector<Reading> shuffled;
    for (std::size_t i : order) shuffled.push_back(readings[i]);
    const auto spots = merge_readings(shuffled, inches(5.5));
    REQUIRE(spots.size() == first.size());
    for (std::size_t i = 0; i < spots.size(); ++i) REQUIRE(spots[i].share == first[i].share);
  } while (std::next_permutation(order.begin(), order.end()));
}
