// SPDX-License-Identifier: MIT
// Sums over several sections: mean R for a rebate, rows of the next-step table, defaults of boards
// and films.
#include <doctest/doctest.h>

#include <algorithm>

#include "fixtures.hpp"

#include "words/nearest.hpp"

using namespace fixtures;

namespace {

Section named(Section s, const std::string& name, double area_ft2) {
  s.name = name;
  s.area = square_feet(area_ft2);
  return s;
}

/// 1,000 ft2 of 4 in. and 500 ft2 of 6 in. of cellulose, R-14 and R-21; 300 ft2 that are met, and a
/// hatch.
Survey three_floors(double target = 49) {
  Survey s = survey_of(
      {named(loose_section({4, 4, 4}), "main", 1000), named(loose_section({6, 6, 6}), "wing", 500),
       named(loose_section({20, 20, 20}), "deep", 300), hatch_section(6, 3)},
      target, target);
  for (Section& floor : s.sections)
    if (!floor.readings.empty()) floor.bare_share = 0.0;
  return priced_with_gas(s);
}

RebateRule rule_of(double below) {
  RebateRule rule;
  rule.name = "invented";
  rule.existing_below = r_value(below);
  rule.brackets = {{r_value(0), r_value(100), 0.5, {}}};
  return rule;
}

const RebateReason* reason(const RebateEnd& end, std::string_view code) {
  for (const RebateReason& r : end.reasons)
    if (r.code == code) return &r;
  return nullptr;
}

}  // namespace

// Hand derivation: the sections that take fill, behind films and ceiling of:
// 1500/(1000/15.52 + 500/22.52) - 1.52 = 15.793923. What is met and the hatch are not in it, and
// the area that is paid for is 1,500 ft2. Range: at 2.8 and 3.8 per inch 12.6 and 17.1, so
// lies inside it and R-18 does not.
TEST_CASE("whole attic: a rebate is held against the mean R of the sections that take fill") {
  Survey s = three_floors();
  s.rebates = {rule_of(18)};
  const RebateEnd eligible = run(s).rebates.at(0).high;
  REQUIRE(reason(eligible, "existing-below"));
  near(reason(eligible, "existing-below")->found->us(), 15.793923, 1e-6);
  CHECK(eligible.verdict == RebateVerdict::eligible);
  near(*eligible.amount, 750, 1e-9);
  s.rebates = {rule_of(15.5)};
  CHECK(run(s).rebates.at(0).high.verdict == RebateVerdict::too_close);
  s.rebates = {rule_of(12.5)};
  CHECK(run(s).rebates.at(0).high.verdict == RebateVerdict::not_eligible);
}

// Symptom: two readings left no upper limit of R. Invariant: U of what is covered is not let below
// a fifth of its mean, so every range has one, five times the R from air to air at most; a limit
// inside the range is too close, one above it is not.
TEST_CASE("whole attic: a mean R of few readings has an upper limit, and a rebate heeds it") {
  Survey s = survey_of({loose_section({5, 8})}, 49, 49);
  const auto range = run(s).sections[0].existing.working_r_range;
  REQUIRE(range);
  REQUIRE(range->high.has_value());
  CHECK(*range->high < r_value(5 * 28));
  s.rebates = {rule_of(range->high->us() - 1)};
  CHECK(run(s).rebates.at(0).high.verdict == RebateVerdict::too_close);
  s.rebates = {rule_of(range->high->us() + 1)};
  CHECK(run(s).rebates.at(0).high.verdict == RebateVerdict::eligible);
  s.rebates = {rule_of(range->low.us() + 1)};
  CHECK(run(s).rebates.at(0).high.verdict == RebateVerdict::too_close);
}

// Hand derivation: method eq. 14a: each row is the difference to the row before. Added depth is the
// new settled depth of both floors by area, 1000 and 500 ft2, over the 1,500 ft2 that any step
// fills; fuel 24·6000·(fall of UA)/0.8/100,000; labor 0.5 x 1500 once.
TEST_CASE("whole attic: the rows of the next-step table are differences of whole attics") {
  Survey s = three_floors();
  s.target.low = r_value(38);
  const Evaluation e = run(s);
  REQUIRE(e.steps.size() == 5);
  const auto depth = [](const Planned& p) {
    return (p.sections[0].new_depth->mean.us() * 1000 + p.sections[1].new_depth->mean.us() * 500) /
           1500;
  };
  near(e.steps[1].added.us(), depth(e.planned.low), 1e-9);
  near(e.steps[1].added.us() + e.steps[2].added.us() + e.steps[3].added.us(), depth(e.planned.high),
       1e-9);
  near(e.steps[1].effective_r.us(), e.planned.low.attic.effective_r.us(), 1e-9);
  near(e.steps[3].effective_r.us(), e.planned.high.attic.effective_r.us(), 1e-9);
  near(e.steps[2].target_r->us(), 43.5, kNoise);
  near(e.steps[4].target_r->us(), 60, kNoise);
  near(*e.steps[1].fixed_cost, 750, 1e-9);
  near(*e.steps[2].fixed_cost, 0, 1e-9);
  near(*e.steps[1].fuel_units,
       24 * 6000 * (e.attic.existing.ua - e.planned.low.attic.ua).us() / 0.8 / 1e5, 1e-9);
  const double bags_high =
      std::ceil(*e.planned.high.sections[0].bags_exact + *e.planned.high.sections[1].bags_exact);
  near(*e.steps[1].bags + *e.steps[2].bags + *e.steps[3].bags, bags_high, 1e-9);
  near(*e.steps[1].cost,
       750 + 16 * std::ceil(*e.planned.low.sections[0].bags_exact +
                            *e.planned.low.sections[1].bags_exact),
       1e-9);
  for (const StepResult& step : e.steps) CHECK(step.reached);
}

// Hand derivation: a tax on all of the cost is on the fixed part too: 750 and 6 % is 795; on goods
// alone it is not. A rebate of 0.4 a ft2 is 600 for 1,500 ft2 in the first row and 0 after it; a
// cap of 500 holds it there.
TEST_CASE("whole attic: tax and rebate in the rows of the next-step table") {
  Survey s = three_floors();
  s.target.low = r_value(38);
  s.money = MoneyWish{};
  s.money->tax_percent = 6;
  near(*run(s).steps[1].fixed_cost, 750, 1e-9);
  s.money->tax_on = TaxOn::all;
  near(*run(s).steps[1].fixed_cost, 795, 1e-9);
  s.money->rebate = RebateTerms{0.4, {}, {}};
  near(*run(s).steps[1].rebate, 600, 1e-9);
  near(*run(s).steps[2].rebate, 0, 1e-9);
  s.money->rebate->cap = 500;
  near(*run(s).steps[1].rebate, 500, 1e-9);
  near(*run(s).planned.high.totals.measure.rebate, 500, 1e-9);
}

// Invariant: a step is not reached where a floor is stopped by its room; what a slope or wall takes
// is as planned at every step, so it holds no row back.
TEST_CASE("whole attic: a step says where a floor has no room for it") {
  Survey s = three_floors(38);
  s.target.high = r_value(60);
  s.sections[0].headroom = inches(17);  // R-38 takes 14 in. as blown, R-60 more than 20
  const Evaluation e = run(s);
  CHECK(e.steps[1].reached);
  CHECK_FALSE(e.steps.back().reached);
  Survey walled = three_floors(38);
  Section slope;
  slope.name = "slope";
  slope.kind = SectionKind::slope;
  slope.area = square_feet(100);
  walled.sections.push_back(slope);
  const Evaluation with_slope = run(walled);
  CHECK(with_slope.planned.high.sections.back().status == TopUpStatus::unreachable);
  CHECK(with_slope.steps[1].reached);
}

// Hand derivation: the R of a board's row is for its thickness and goes with it: an inch of gypsum
// is 0.9, twice 0.45; a board with R per inch alone takes it times its thickness, its
// typical figure (1.4 x 0.5 for oriented strand board).
TEST_CASE("whole attic: a board counts by its thickness") {
  const auto ends = [](const Board& ceiling) {
    Section s = flat_section();
    s.ceiling = ceiling;
    s.readings = {reading_of(0)};
    return run(survey_of({s})).sections[0].existing.effective_r.us() - 0.61 - 0.46;
  };
  near(ends({"gypsum-1/2", {}, {}}), 0.45, kNoise);
  near(ends({"gypsum-1/2", inches(1), {}}), 0.9, kNoise);
  near(ends({"osb", inches(0.5), {}}), 0.7, kNoise);
  near(ends({"gypsum-1/2", inches(1), r_value(0.7)}), 0.7, kNoise);
  CHECK_THROWS_AS(ends({"osb", {}, {}}), Error);
}

// Hand derivation: actual sizes of lumber: 2x8 is 1.5 x 7.25, so a fraction of 1.5/19.2; an own
// fraction or actual size is taken as it is. Bare floor under 1 in. of fill: bay 1.52 + 3.5,
// joist 1.52 + 1.25 (wood up to the fill's surface).
TEST_CASE("whole attic: joists count by size and spacing, or by what the survey says of them") {
  const auto r = [](const Joists& joists) {
    Section s = loose_section({1});
    s.joists = joists;
    return run(survey_of({s})).sections[0].existing.effective_r.us();
  };
  const auto by_hand = [](double fraction, double wood) {
    return 1 / (fraction / (1.52 + wood) + (1 - fraction) / 5.02);
  };
  Joists j;
  j.size = "2x8";
  j.spacing = inches(19.2);
  near(r(j), by_hand(1.5 / 19.2, 1.25), kNoise);
  j.framing_fraction = 0.12;
  near(r(j), by_hand(0.12, 1.25), kNoise);
  j.wood = r_per_inch(1.0);
  near(r(j), by_hand(0.12, 1.0), kNoise);
  Joists actual;
  actual.width = inches(2);
  actual.depth = inches(6);
  near(r(actual), by_hand(2.0 / 16, 1.25), kNoise);
  near(r(Joists{}), by_hand(1.5 / 16, 1.25), kNoise);
  Joists half;  // a width without a depth is no actual size
  half.width = inches(2);
  near(r(half), by_hand(1.5 / 16, 1.25), kNoise);
  actual.spacing = inches(2);
  CHECK_NOTHROW(r(actual));
  actual.spacing = inches(1.9);
  CHECK_THROWS_AS(r(actual), Error);
}

// Common practice: a name is guessed by one of its parts only where that part is long enough to
// mean something.
TEST_CASE("whole attic: a short part of a name is no guess") {
  const std::vector<std::string_view> names = {"bath-fan", "masonry-chimney", "top-plate"};
  CHECK(nearest_name("chimny", names) == "masonry-chimney");
  CHECK(nearest_name("plate", names) == "top-plate");
  CHECK(nearest_name("fun", names).empty());
  CHECK(nearest_name("abcd", {"abce", "abcf"}) == "abce");  // of two alike the first
  CHECK(nearest_name("top-plat", names) == "top-plate");
  CHECK(nearest_name("xyzzyxyzzy", names).empty());
}

// Hand derivation: the limit that a bracket's reason names: the upper edge of the bracket that
// holds the R; below all brackets the first one's lower edge, above them the last one's upper edge.
TEST_CASE("whole attic: a bracket's reason names the edge that matters") {
  RebateRule rule;
  rule.brackets = {{r_value(5), r_value(11), 0.9, {}}, {r_value(11), r_value(19), 0.5, {}}};
  const auto limit = [&](double existing) {
    RebateInput in;
    in.existing.r = r_value(existing);
    in.final_r.r = r_value(49);
    in.area = square_feet(900);
    const RebateEnd end = hold_rebate(rule, in);
    return reason(end, "bracket")->limit->us();
  };
  near(limit(3), 5, 0);
  near(limit(8), 11, 0);
  near(limit(12), 19, 0);
  near(limit(25), 19, 0);
}

// Invariant: wind blows through what lies at the eaves: of a floor and of a side attic, not of a
// dropped soffit inside the attic.
TEST_CASE("whole attic: what is laid or blown at the eaves is told of the wind") {
  BattProduct batt;
  batt.name = "six";
  batt.label_r = r_value(19);
  batt.thickness = inches(6.25);
  batt.coverage = square_feet(50);
  for (const SectionKind kind :
       {SectionKind::flat, SectionKind::side_attic_floor, SectionKind::dropped_soffit}) {
    Section s = flat_section();
    s.kind = kind;
    s.readings = {reading_of(0)};
    Survey blown = survey_of({s}, 19, 19), laid = blown;
    laid.proposal = Proposal{};
    laid.proposal->batts = {batt};
    const bool at_eaves = kind != SectionKind::dropped_soffit;
    CHECK(raises(run(blown), "wind-wash") == at_eaves);
    CHECK(raises(run(laid), "wind-wash") == at_eaves);
  }
}

// Invariant: where nothing is insulated there is nothing to pay for, whatever the brackets say.
TEST_CASE("whole attic: no rebate for no area") {
  RebateInput in;
  in.existing.r = r_value(8);
  in.final_r.r = r_value(49);
  const RebateEnd end = hold_rebate(rule_of(20), in);
  CHECK(end.verdict == RebateVerdict::not_eligible);
  CHECK(reason(end, "nothing-done"));
  CHECK_FALSE(end.amount);
}
