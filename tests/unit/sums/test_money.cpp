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

// Hand derivation: 40 bags x 15 = 600; 1,000 ft2 x 0.5 = 500; extras 120 + 80 = 200; together
// 1,300. Invented prices, exact arithmetic.
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
  for (const Proposal& p : {no_bag_price, no_labour, no_rate})
    CHECK_FALSE(blow_cost(p, 40.0, square_feet(1000)).total);
  CHECK_FALSE(blow_cost(no_bag_price, 40.0, square_feet(1000)).material);
  CHECK(*blow_cost(no_bag_price, 40.0, square_feet(1000)).labour == 500.0);
  CHECK_FALSE(blow_cost(no_labour, 40.0, square_feet(1000)).labour);
  CHECK_FALSE(blow_cost(no_rate, 40.0, square_feet(1000)).labour);
  CHECK_FALSE(blow_cost(priced(), {}, square_feet(1000)).material);  // bags not known
  CHECK_FALSE(blow_cost(priced(), {}, square_feet(1000)).total);
}

// Hand derivation: no extras leave extras empty and the total at 1,100; a labour price of 0 counts
// as priced, so the owner's own work is 600.
TEST_CASE("cost: no extras means none, and free labour is priced") {
  Proposal p = priced();
  p.extras.clear();
  CHECK_FALSE(blow_cost(p, 40.0, square_feet(1000)).extras);
  CHECK(*blow_cost(p, 40.0, square_feet(1000)).total == 1100.0);
  p.labour = Labour{0.0, {}, {}};
  CHECK(*blow_cost(p, 40.0, square_feet(1000)).total == 600.0);
}

// Hand derivation: no fill, so no dams; 90 for safety and 300 for sealing are still to be paid:
// 390, and with free bags and labor that is the whole cost. Invented prices, exact arithmetic.
TEST_CASE("cost: safety and sealing are paid even where no fill is added") {
  Proposal p = priced();
  p.extras = {{"dam", 80, {}},
              {"baffles", 120, CostPart::insulation},
              {"light covers", 90, CostPart::safety},
              {"sealing", 300, CostPart::sealing}};
  const Cost c = blow_cost(p, 0.0, Area{});
  CHECK(*c.extras == 390.0);
  CHECK(*c.total == 390.0);
  CHECK(*blow_cost(p, 40.0, square_feet(1000)).extras == 590.0);
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

// Hand derivation: 12 in. of cellulose, 80 bags (see the bag tests), x 15 = 1,200; 1,000 ft2 x 0.5
// = 500; extras 200.
TEST_CASE("cost: the evaluation prices whole bags and gross area") {
  Section s = loose_section({0});
  s.joists->framing_fraction = 0.0;
  Survey survey = survey_of({s}, 41.9, 41.9);  // 14.96 in., rounded up to 15
  const Proposal p = priced();
  survey.proposal->price_per_bag = p.price_per_bag;
  survey.proposal->labour = p.labour;
  survey.proposal->extras = p.extras;
  const Evaluation e = run(survey);
  CHECK(*e.planned.low.totals.bags == 80.0);
  CHECK(*e.planned.low.totals.cost == 1900.0);
  CHECK(e.extra_costs.size() == 2);
  survey.proposal->price_per_bag.reset();
  CHECK_FALSE(run(survey).planned.low.totals.cost);
}

// Source: tests/reference/SOURCES.md#money: UPV(3 %, 20) = 14.877, UPV(3 %, 25) = 17.413.
// Tolerance: half the last digit.
TEST_CASE("money: uniform present value at 3 %") {
  near(uniform_present_value(3, 20), 14.877, 0.0005);
  near(uniform_present_value(3, 25), 17.413, 0.0005);
}

// Hand derivation: the sum 1/1.1 + 1/1.21 + 1/1.331 = 2.48685 at 10 % over 3 years; without a rate
// a year counts as a year; near 0 the series n - n (n+1)/2 d is 20 - 2.1e-9 at d = 1e-11.
TEST_CASE("money: uniform present value is the sum of the years, also at and near a rate of 0") {
  near(uniform_present_value(10, 3), 1 / 1.1 + 1 / 1.21 + 1 / 1.331, kNoise);
  CHECK(uniform_present_value(0, 20) == 20.0);
  near(uniform_present_value(1e-9, 20), 20 - 2.1e-9, 1e-11);
}

// Source: tests/reference/SOURCES.md#sir-example: $100 a year, 25 years, $400: SIR 6.25; a window
// at $5 and $200 prints 0.62, exact 0.625. At 3 % (computed): 4.353, simple payback 4.0,
// discounted 4.32 years. Tolerance: half the last digit.
TEST_CASE("money: the weatherization exercise, undiscounted and at 3 %") {
  near(*savings_to_investment(100, 400, {25, 0, 0}), 6.25, kNoise);
  near(*savings_to_investment(5, 200, {25, 0, 0}), 0.625, kNoise);
  const Worth w = worth_of(100, 400, 0, {25, 3, 0});
  near(*w.sir, 4.353, 0.0005);
  near(*w.payback, 4.0, 0.05);
  near(*w.payback_discounted, 4.32, 0.005);
}

// Invariant: over its discounted payback a saving is worth its cost; without a rate both paybacks
// are one.
TEST_CASE("money: discounted payback is the life at which the SIR is 1") {
  for (double rate : {0.0, 0.5, 3.0, 8.0})
    for (double rise : {0.0, 2.0}) {
      const MoneyTerms terms{25, rate, rise};
      const double n = *discounted_payback(900, 100, terms);
      near(*savings_to_investment(100, 900, {n, rate, rise}), 1.0, kNoise);
    }
  CHECK(*discounted_payback(900, 100, {25, 0, 0}) == *simple_payback(900, 100));
}

// Hand derivation: a price that rises as fast as money is discounted leaves every year worth the
// first: 25 x 100 = 2,500. At 4 % against 3.0 % the rate is 1.04/1.03 - 1 = 0.970874 %; two years
// are 1.03/1.04 + (1.03/1.04)^2 = 1.971246.
TEST_CASE("money: a rising price lowers the rate") {
  near(present_value(100, {25, 3, 3}), 2500, 1e-6);
  const double q = 1.03 / 1.04;
  near(present_value(1, {2, 4, 3}), q + q * q, kNoise);
}

// Hand derivation: 4,000 x 3 % = 120 a year is more than 100 saves: never. Nothing saved: never. A
// cost of 0 is paid at once and has no SIR. Rebate: (400 - 100)/100 = 3 years; a rebate above the
// cost is 0 years, not less; SIR stays that of the whole cost.
TEST_CASE("money: never paid back, paid back at once, and rebates") {
  CHECK_FALSE(discounted_payback(4000, 100, {25, 3, 0}));
  CHECK(simple_payback(4000, 100));
  CHECK_FALSE(simple_payback(400, 0));
  CHECK_FALSE(simple_payback(400, -5));
  CHECK(*simple_payback(0, 100) == 0.0);
  CHECK_FALSE(savings_to_investment(100, 0, {25, 3, 0}));
  const Worth w = worth_of(100, 400, 100, {25, 0, 0});
  CHECK(*w.payback == 4.0);
  CHECK(*w.payback_after == 3.0);
  CHECK(*w.sir == 6.25);
  CHECK(w.net_saving == 2100.0);
  CHECK(*worth_of(100, 400, 500, {25, 0, 0}).payback_after == 0.0);
}

// Invariant: lives, rates and amounts that mean nothing are refused.
TEST_CASE("money: impossible terms are refused") {
  const double nan = std::nan("");
  for (double life : {0.0, -1.0, nan}) CHECK_THROWS_AS(uniform_present_value(3, life), Error);
  for (double rate : {-100.0, nan}) CHECK_THROWS_AS(uniform_present_value(rate, 20), Error);
  CHECK_THROWS_AS(present_value(1, {20, 3, -100}), Error);
  CHECK_THROWS_AS(present_value(nan, {20, 3, 0}), Error);
  CHECK_THROWS_AS(savings_to_investment(1, nan, {20, 3, 0}), Error);
  CHECK_THROWS_AS(simple_payback(nan, 1), Error);
  CHECK_THROWS_AS(worth_of(1, 1, nan, {20, 3, 0}), Error);
}

namespace {

StepPlan plan_of(const char* label, double r, double ua_after, std::optional<double> cost) {
  StepPlan p;
  p.label = label;
  p.r = r_value(r);
  p.ua_after = Conductance::from_us(ua_after);
  p.cost = cost;
  p.fixed_cost = 200;
  return p;
}

/// Invented: UA 100 as found; leave 40, 32, 26; 200 of each cost is fixed.
std::vector<StepPlan> three_plans() {
  std::vector<StepPlan> plans = {plan_of("R-30", 30, 40, 700.0), plan_of("R-38", 38, 32, 800.0),
                                 plan_of("R-49", 49, 26, 1000.0)};
  const double bags[] = {20, 25.5, 33}, rebates[] = {100, 100, 200};
  for (std::size_t i = 0; i < 3; ++i) {
    plans[i].bags = bags[i];
    plans[i].rebate = rebates[i];
  }
  return plans;
}

NextSteps steps_of(const std::vector<StepPlan>& plans) {
  return next_steps(Conductance::from_us(100), plans, 1.0, {20, 0, 0});
}

}  // namespace

// Hand derivation: 1 a year for each Btu/(h F), 20 years, no rate. R-30: 60 a year for 700, SIR
// 1,200/700, 11.67 years, 10 after 100 of rebate. R-38: 8 for 100, SIR 1.6, 12.5 years, no more
// rebate. R-49: 6 for 200, SIR 0.6, 33.3 years, (200 - 100)/6 = 16.7 after the rest of the rebate;
// yet the whole job is 74 x 20/1,000 = 1.48. R-38 is the step to stop at.
TEST_CASE("steps: each next step by itself, and the average that hides a poor last inch") {
  const NextSteps table = steps_of(three_plans());
  const double saving[] = {60, 8, 6}, cost[] = {700, 100, 200}, fixed[] = {200, 0, 0},
               bags[] = {20, 5.5, 7.5}, rebate[] = {100, 0, 100};
  const double sir[] = {1200.0 / 700, 1.6, 0.6}, payback[] = {700.0 / 60, 12.5, 200.0 / 6},
               after[] = {10, 12.5, 100.0 / 6};
  REQUIRE(table.steps.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    const StepWorth& s = table.steps[i];
    near(s.annual_saving, saving[i], kNoise);
    near(*s.cost, cost[i], kNoise);
    near(s.fixed_cost, fixed[i], kNoise);
    near(*s.bags, bags[i], kNoise);
    near(s.rebate, rebate[i], kNoise);
    near(*s.worth->sir, sir[i], kNoise);
    near(*s.worth->payback, payback[i], kNoise);
    near(*s.worth->payback_after, after[i], kNoise);
  }
  near(*table.steps[2].sir_of_all_so_far, 1.48, kNoise);
  REQUIRE(table.last_worthwhile);
  CHECK(table.steps[*table.last_worthwhile].label == "R-38");
}

// Invariant: the columns add up to the totals of the last plan, also where what is called fixed
// grows with R.
TEST_CASE("steps: the columns add up to the whole job") {
  std::vector<StepPlan> plans = three_plans();
  plans[2].fixed_cost = 230;
  double bags = 0, cost = 0, fixed = 0, rebate = 0, saving = 0;
  for (const StepWorth& s : steps_of(plans).steps) {
    bags += *s.bags;
    cost += *s.cost;
    fixed += s.fixed_cost;
    rebate += s.rebate;
    saving += s.annual_saving;
  }
  near(bags, 33, kNoise);
  near(cost, 1000, kNoise);
  near(fixed, 230, kNoise);
  near(rebate, 200, kNoise);
  near(saving, 74, kNoise);
}

// Invariant: a step that is not priced, and the one after it, have no worth; a step for nothing has
// no cost to earn, one that saves nothing at a cost does not earn it; no plans give no table.
TEST_CASE("steps: not priced, free and useless steps") {
  std::vector<StepPlan> plans = three_plans();
  plans[1].cost.reset();
  NextSteps table = steps_of(plans);
  CHECK(table.steps[0].worth);
  CHECK_FALSE(table.steps[1].worth);
  CHECK_FALSE(table.steps[1].cost);
  CHECK_FALSE(table.steps[2].worth);
  CHECK(table.steps[2].sir_of_all_so_far);
  CHECK(*table.last_worthwhile == 0);
  plans = three_plans();
  plans[1].cost = plans[0].cost;
  plans[2].ua_after = plans[1].ua_after;
  table = steps_of(plans);
  CHECK_FALSE(table.steps[1].worth->sir);
  CHECK(*table.steps[1].worth->payback == 0.0);
  CHECK_FALSE(table.steps[2].worth->payback);
  CHECK(*table.last_worthwhile == 0);
  CHECK_FALSE(steps_of({plan_of("R-60", 60, 99, 9000.0)}).last_worthwhile);
  CHECK(steps_of({}).steps.empty());
}

// Invariant: steps out of order, a UA that rises and a fixed cost above the cost are refused by the
// step's name.
TEST_CASE("steps: contradictions are refused by name") {
  std::vector<StepPlan> order = three_plans(), worse = three_plans(), fixed = three_plans();
  std::swap(order[1], order[2]);
  worse[1].ua_after = Conductance::from_us(41);
  fixed[1].fixed_cost = 801;
  CHECK_THROWS_WITH_AS(steps_of(order), doctest::Contains("R-38"), Error);
  CHECK_THROWS_WITH_AS(steps_of(worse), doctest::Contains("R-38"), Error);
  CHECK_THROWS_WITH_AS(steps_of(fixed), doctest::Contains("R-38"), Error);
}
