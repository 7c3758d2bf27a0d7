// SPDX-License-Identifier: MIT
// What is laid across the joists: its weight, price and range.
#include <doctest/doctest.h>

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

BattProduct product(const std::string& name, double r, double thickness_in,
                    std::optional<double> price = 60.0) {
  BattProduct p;
  p.name = name;
  p.label_r = r_value(r);
  p.thickness = inches(thickness_in);
  p.coverage = square_feet(50);
  p.package_weight = Mass::from_us(25);
  p.price = price;
  return p;
}

/// 5.5 in. of even cellulose, R-19.25, under a list.
Survey laid(std::vector<BattProduct> list, double low, double high) {
  Survey s = survey_of({loose_section({5.5, 5.5, 5.5})}, low, high);
  s.sections[0].bare_share = 0.0;
  s.proposal = Proposal{};
  s.proposal->batts = std::move(list);
  s.proposal->waste_percent = 0.0;
  return s;
}

}  // namespace

// Hand derivation: an R-30 batt of 25 lb for 50 ft2 is 0.5 lb/ft2 on 5.5 in. of
// cellulose, 5.5/6: 1.41667. It lies from 5.5 to 15.5 in. 1,000 ft2 are 20 packages at 60. In the
// step table they cost what is laid, not what is bought whole.
TEST_CASE("laid: what is laid has its weight, its level and its price") {
  Survey s = laid({product("ten", 30, 10)}, 49, 49);
  s.proposal->labour = Labour{0.5, {}, {}};
  s.proposal->waste_percent = 1.0;
  s.heating = heating_of("natural-gas", 0.8);
  s.heating->price_per_unit = 1.2;
  const Evaluation e = run(s);
  const TopUp& t = e.planned.high.sections[0];
  near(t.added_weight->us(), 0.5, kNoise);
  near(t.weight->us(), 0.5 + 5.5 / 6, kNoise);
  near(t.weight_greatest->us(), 0.5 + 5.5 / 6, kNoise);
  near(t.settled_level->us(), 15.5, kNoise);
  near(t.added_mass->us(), 500, kNoise);
  near(t.batts[0].packages_exact, 20.2, kNoise);
  near(e.planned.high.totals.packages.at(0).count, 21, 0);
  near(*e.planned.high.totals.material, 1260, kNoise);
  REQUIRE(e.steps.size() >= 2);
  near(*e.steps[1].cost, 60 * 21 + 500, 1e-6);
  Survey unpriced = laid({product("six", 19, 6.25, {}), product("ten", 30, 10)}, 38, 49);
  CHECK_FALSE(run(unpriced).planned.low.totals.material);
  CHECK(run(unpriced).planned.high.totals.material);
}

// Hand derivation: the range is that of the product that was laid: cellulose of 5.5 in. is R 18.7
// to 20.35 (3.4 to 3.7 per inch as it is found), the labels are as printed, and at the low end 10 %
// below (16 CFR 460.8). R-30 in one layer; then R-19 below R-13, told apart from R-19 on R-19 by
// the second name.
TEST_CASE("laid: the range after the work is that of what was laid") {
  const std::vector<BattProduct> list = {product("three", 13, 3.5), product("six", 19, 6.25),
                                         product("ten", 30, 10)};
  for (const auto& pair : {std::pair(38.0, 19.0), std::pair(49.0, 30.0), std::pair(51.0, 32.0),
                           std::pair(57.0, 38.0)}) {
    const double target = pair.first, added = pair.second;
    const TopUp t = run(laid(list, target, target)).planned.high.sections[0];
    CAPTURE(target);
    near(t.working_r.us(), 19.25 + added, 1e-9);
    near(t.working_r_range->low.us(), 18.7 + 0.9 * added, 1e-6);
    near(t.working_r_printed->low.us(), 18.7 + added, 1e-6);
    near(t.working_r_range->high->us(), 20.35 + added, 1e-6);
  }
}
