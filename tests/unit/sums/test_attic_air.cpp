// SPDX-License-Identifier: MIT
#include "overjoist/attic_air.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "fixtures.hpp"
#include "overjoist/leakage.hpp"

using namespace fixtures;

namespace {

/// 1,040 ft2, 26 ft wide, 5 in 12, with the figures of the table.
AtticShape house() { return {square_feet(1040), inches(12 * 26), tables().figure("attic-pitch")}; }

AtticLoss loss_of(const AtticShape& shape, double elevation_ft) {
  return {roof_area(shape), r_value(tables().figure("attic-roof-r")), attic_volume(shape),
          tables().figure("attic-air-changes"), air_heat_factor(elevation_ft)};
}

Conductance ua(double v) { return Conductance::from_us(v); }

/// Percent by which the balance changes a saving from one R of the ceiling to another.
double change(double from_r, double to_r, double elevation_ft) {
  const Conductance s = attic_conductance(loss_of(house(), elevation_ft));
  const auto through = [&](double r) { return ua_through_attic(ua(1040 / r), s).us(); };
  return 100 * ((through(from_r) - through(to_r)) / (1040 / from_r - 1040 / to_r) - 1);
}

}  // namespace

// Hand derivation: 5 in 12 is 13 along the slope for 12: 1040·13/12 = 1126.67 ft2. Rise over half
// of 26 ft: 13·5/12 = 5.41667 ft, half of it 2.70833 ft: 2816.67 ft3. Without a width
// sqrt(1536/1.5) = 32 ft. A flat roof is as large as its floor and holds no air. Source: WAC
// 51-11-1007, 3 air changes an hour.
TEST_CASE("attic air: roof and volume follow from floor, width and pitch") {
  near(roof_area(house()).us(), 1126.666667, 1e-6);
  near(attic_volume(house()).us(), 2816.666667, 1e-6);
  near(attic_width({square_feet(1536), {}, 5}).us(), 32 * 12, kNoise);
  near(attic_volume({square_feet(1536), {}, 6}).us(), 1536 * 4, 1e-9);
  near(roof_area({square_feet(1000), {}, 0}).us(), 1000, kNoise);
  CHECK(attic_volume({square_feet(1000), {}, 0}) == Volume{});
  CHECK(tables().figure("attic-air-changes") == 3);
}

// Hand derivation: 1126.667/1.9 = 592.982; 3·2816.667/60 = 140.833 cfm, 1.08 of each at sea level:
// 152.1; S = 745.082. Pressure at 5,800 ft 0.80744: 592.982 + 122.812 = 715.794.
TEST_CASE("attic air: S is the roof and the air that changes") {
  near(attic_conductance(loss_of(house(), 0)).us(), 745.082, 0.0005);
  near(attic_conductance(loss_of(house(), 5800)).us(), 715.794, 0.0005);
  AtticLoss still = loss_of(house(), 0);
  still.air_changes = 0;
  near(attic_conductance(still).us(), 592.982, 0.0005);
}

// Hand derivation: 100·300/400 = 75. Two floors of 60 and 40 under one roof are 100 together; one
// by itself over an S of its own half would be another house. A ceiling that loses nothing loses
// nothing; an attic of endless S is outdoors.
TEST_CASE("attic air: ceiling and attic stand in series, all floors over one S") {
  near(ua_through_attic(ua(100), ua(300)).us(), 75, kNoise);
  CHECK(ua_through_attic(ua(0), ua(300)).us() == 0);
  near(ua_through_attic(ua(100), ua(1e15)).us(), 100, 1e-9);
  const double alone =
      ua_through_attic(ua(60), ua(300)).us() + ua_through_attic(ua(40), ua(300)).us();
  CHECK(ua_through_attic(ua(60) + ua(40), ua(300)).us() < alone);
}

// Independent: check figures of a study that shares no code with this one, whole percent; a bare
// ceiling is R 1.52 film to film. 1: what is printed is rounded, and whether its R holds wood is
// not said.
TEST_CASE("attic air: what the balance takes off the saving of one house") {
  const double rows[][4] = {
      {19, 49, -10, -9}, {11, 49, -14, -14}, {7, 49, -19, -19}, {1.52, 49, -51, -49}};
  for (const auto& row : rows) {
    CAPTURE(row[0]);
    near(change(row[0], row[1], 5800), row[2], 1);
    near(change(row[0], row[1], 0), row[3], 1);
  }
}

// Invariant: the header's ranges, each refused by name.
TEST_CASE("attic air: sizes out of range are refused by name") {
  const double none = std::numeric_limits<double>::quiet_NaN();
  const auto refused = [](auto call, const char* words) {
    CHECK_THROWS_WITH_AS(call(), doctest::Contains(words), Error);
  };
  refused([] { return roof_area({square_feet(0), {}, 5}); }, "attic floor");
  refused([&] { return roof_area({square_feet(none), {}, 5}); }, "attic floor");
  refused([] { return roof_area({square_feet(100), {}, -1}); }, "roof pitch");
  refused([] { return attic_volume({square_feet(100), inches(0), 5}); }, "attic width");
  AtticLoss loss = loss_of(house(), 0);
  const auto refuse_loss = [&](auto change_it, const char* words) {
    AtticLoss bad = loss;
    change_it(bad);
    refused([&] { return attic_conductance(bad); }, words);
  };
  refuse_loss([](AtticLoss& l) { l.roof = {}; }, "roof area");
  refuse_loss([](AtticLoss& l) { l.roof_r = {}; }, "roof R");
  refuse_loss([](AtticLoss& l) { l.volume = Volume::from_us(-1); }, "attic volume");
  refuse_loss([](AtticLoss& l) { l.air_changes = -1; }, "air changes");
  refuse_loss([](AtticLoss& l) { l.air_heat = -1; }, "air heat");
  refused([] { return ua_through_attic(ua(-1), ua(1)); }, "UA of ceilings");
  refused([] { return ua_through_attic(ua(1), ua(0)); }, "UA of the attic");
}
