// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"
#include "overjoist/money.hpp"

using namespace fixtures;

namespace {

Proposal priced() {
  Proposal p;
  p.price_per_bag = 15.0;
  p.labour = Labour{0.5, {}, {}};
  p.extras = {{"baffles", 120.0}, {"dam", 80.0}};
  return p;
}

}  // namespace

// Hand derivation: 40 bags x 15 = 600; 1,000 ft2 x 0.5 = 500; extras 120 + 80 = 200; together 1,300. Invented prices, exact arithmetic.
TEST_CASE("cost: material, labour by area and extras add up") {
  const Cost c = blow_cost(priced(), 40.0, square_feet(1000));
  CHECK(*c.material == 600.0);
  CHECK(*c.labour == 500.0);
  CHECK(*c.extras == 200.0);
  CHECK(*c.total == 1300.0);
}

// Hand derivation: 6 h at 45 = 270 whatever the area.
TEST_CASE("cost: labour by hours") {
  Proposal p = priced();
  p.labour = Labour{{}, 6.0, 45.0};
  CHECK(*blow_cost(p, 40.0, square_feet(1000)).labour == 270.0);
  CHECK(*blow_cost(p, 40.0, square_feet(1000)).total == 1070.0);
}

// Invariant: a price that was not given is 'not priced', never 0, and then there is no total.
TEST_CASE("cost: a missing price is not priced, never 0") {
  Proposal no_bag_price = priced(), no_labour = priced(), no_rate = priced();
  no_bag_price.price_per_bag.reset();
  no_labour.labour.reset();
  no_rate.labour = Labour{{}, 6.0, {}};
  for (const Proposal& p : {no_bag_price, no_labour, no_rate}) CHECK_FALSE(blow_cost(p, 40.0, square_feet(1000)).total);
  CHECK_FALSE(blow_cost(no_bag_price, 40.0, square_feet(1000)).material);
  CHECK(*blow_cost(no_bag_price, 40.0, square_feet(1000)).labour == 500.0);
  CHECK_FALSE(blow_cost(no_labour, 40.0, square_feet(1000)).labour);
  CHECK_FALSE(blow_cost(no_rate, 40.0, square_feet(1000)).labour);
  CHECK_FALSE(blow_cost(priced(), {}, square_feet(1000)).material);  // bags not known
  CHECK_FALSE(blow_cost(priced(), {}, square_feet(1000)).total);
}

// Hand derivation: no extras leave extras empty and the total at 1,100; a labour price of 0 counts as priced, so the owner's own work is
// 600.
TEST_CASE("cost: no extras means none, and free labour is priced") {
  Proposal p = priced();
  p.extras.clear();
  CHECK_FALSE(blow_cost(p, 40.0, square_feet(1000)).extras);
  CHECK(*blow_cost(p, 40.0, square_feet(1000)).total == 1100.0);
  p.labour = Labour{0.0, {}, {}};
  CHECK(*blow_cost(p, 40.0, square_feet(1000)).total == 600.0);
}

// Hand derivation: nothing to blow, nothing to pay: neither hours nor extras are charged.
TEST_CASE("cost: where nothing is blown nothing is charged") {
  Proposal p = priced();
  p.labour = Labour{{}, 6.0, 45.0};
  const Cost c = blow_cost(p, 0.0, square_feet(0));
  CHECK(*c.labour == 0.0);
  CHECK(*c.extras == 0.0);
  CHECK(*c.total == 0.0);
}

// Hand derivation: 12 in. of cellulose, 80 bags (see the bag tests), x 15 = 1,200; 1,000 ft2 x 0.5 = 500; extras 200.
TEST_CASE("cost: the evaluation prices whole bags and gross area") {
  Section s = loose_section({0});
  s.joists->framing_fraction = 0.0;
  Survey survey = survey_of({s}, 41.9, 41.9);  // 14.96 in., rounded up to 15
  const Proposal p = priced();
  survey.proposal->price_per_bag = p.price_per_bag;
  survey.proposal->labour = p.labour;
  survey.proposal->extras = p.extras;
  const Evaluation e = run(survey);
  CHECK(*e.low.bags == 80.0);
  CHECK(*e.low.cost == 1900.0);
  CHECK(e.extra_costs.size() == 2);
  survey.proposal->price_per_bag.reset();
  CHECK_FALSE(run(survey).low.cost);
}
