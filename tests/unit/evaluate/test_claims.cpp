// SPDX-License-Identifier: MIT
// Which end of the band a quote's claim is held against, which section, and where each verdict
// turns (method eq. 15a). Expected figures are those of the evaluation's own ends, whose sums other
// tests hold; what is tested here is the choice.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

Claim claim_of(ClaimKind kind, double value, const std::string& where = "") {
  Claim c;
  c.kind = kind;
  c.value = value;
  c.where = where;
  return c;
}

/// 1,000 ft2, five equal readings of 5 in. of cellulose, bags at 16, labor 0.5 a ft2, gas at 1.2; a
/// band from.
Survey quoted() {
  Section s = loose_section({5, 5, 5, 5, 5});
  s.bare_share = 0.0;  // the material alone is uncertain
  return priced_with_gas(survey_of({s}, 38, 49));
}

/// The claim's verdict in a quote that may also sell a final R.
ClaimResult held(Survey s, const Claim& claim, double sold_r = 0) {
  s.claims = {claim};
  if (sold_r > 0) s.claims.push_back(claim_of(ClaimKind::final_r, sold_r));
  return run(s).claims.at(0);
}

constexpr auto agrees = ClaimVerdict::agrees;
constexpr auto too_near = ClaimVerdict::too_close;
constexpr auto disagrees = ClaimVerdict::disagrees;
constexpr auto not_judged = ClaimVerdict::not_judged;

bool is(const ClaimResult& r, ClaimVerdict verdict, std::string_view why) {
  INFO(r.why);
  return r.verdict == verdict && r.why == why;
}

}  // namespace

// Source: method eq. 15a: held against both ends, or the end whose target is nearest to the final R
// that the quote sells. 43.5 lies in the middle of 38 and 49; 40 is nearer to the low end, 47 to
// the high one. What is a least amount is then that of the lower end that counts.
TEST_CASE("claims: bags are held against the end that the quote sells, else against the low one") {
  const Evaluation e = run(quoted());
  const double low = *e.planned.low.totals.bags, high = *e.planned.high.totals.bags;
  REQUIRE(low + 1 < high);
  for (double sold : {0.0, 40.0, 43.5}) {
    CHECK(is(held(quoted(), claim_of(ClaimKind::bags, low), sold), too_near, "mean-only"));
    CHECK(is(held(quoted(), claim_of(ClaimKind::bags, low - 1), sold), disagrees, "too-little"));
  }
  CHECK(is(held(quoted(), claim_of(ClaimKind::bags, high - 1), 47), disagrees, "too-little"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::bags, high), 47), too_near, "mean-only"));
  const ClaimResult r = held(quoted(), claim_of(ClaimKind::bags, low));
  CHECK(r.computed_low == low);
  CHECK(r.computed_high == high);
}

// Source: method eq. 15a, as above. What is a most is that of the higher end that counts; whole
// figures, rounded up.
TEST_CASE(
    "claims: a saving and a price are held against the end that the quote sells, else against "
    "either") {
  const Evaluation e = run(quoted());
  const double low = std::ceil(*e.planned.low.totals.year->fuel.money),
               high = std::ceil(*e.planned.high.totals.year->fuel.money);
  REQUIRE(low < high);
  for (double sold : {0.0, 43.5, 47.0})
    CHECK(is(held(quoted(), claim_of(ClaimKind::annual_saving, high), sold), agrees, "not-more"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::annual_saving, low), 40), agrees, "not-more"));
  CHECK_FALSE(is(held(quoted(), claim_of(ClaimKind::annual_saving, high), 40), agrees, "not-more"));
  for (double sold : {0.0, 43.5}) {
    CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.low.totals.cost), sold), agrees,
             "as-computed"));
    CHECK(is(held(quoted(),
                  claim_of(ClaimKind::price,
                           (*e.planned.low.totals.cost + *e.planned.high.totals.cost) / 2),
                  sold),
             agrees, "as-computed"));
    CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.high.totals.cost), sold), agrees,
             "as-computed"));
  }
  CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.high.totals.cost), 40), disagrees,
           "price-above"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.low.totals.cost), 47), disagrees,
           "price-below"));
}

// Hand derivation: a bag is 16: a price 16 off is too close to call, 17 off is not.
TEST_CASE("claims: the price turns a bag below the low end and a bag above the high one") {
  const Evaluation e = run(quoted());
  CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.low.totals.cost - 16)), too_near,
           "within-a-bag"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.low.totals.cost - 17)), disagrees,
           "price-below"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.high.totals.cost + 16)), too_near,
           "within-a-bag"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::price, *e.planned.high.totals.cost + 17)), disagrees,
           "price-above"));
  Survey unpriced = quoted();
  unpriced.proposal->labour.reset();
  CHECK(is(held(unpriced, claim_of(ClaimKind::price, 900)), not_judged, "not-priced"));
}

// Hand derivation: 5 in. at R 3.5 is 17.5; half an R either way agrees. At 3.4 and 3.7 per inch, as
// it is found, the range is 17 to 18.5 (method eq. 15: the readings are equal). The label basis has
// no range, so 18.5 is simply not what lies there.
TEST_CASE("claims: an existing R agrees within half an R, and within its range is too close") {
  for (double c : {17.0, 17.5, 18.0})
    CHECK(is(held(quoted(), claim_of(ClaimKind::existing_r, c)), agrees, "as-computed"));
  for (double c : {18.1, 18.3, 18.5})
    CHECK(is(held(quoted(), claim_of(ClaimKind::existing_r, c)), too_near, "within-range"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::existing_r, 16.9)), disagrees, "found-more"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::existing_r, 18.6)), disagrees, "found-less"));
  const ClaimResult r = held(quoted(), claim_of(ClaimKind::existing_r, 16));
  near(*r.range_low, 17, 1e-6);
  near(*r.range_high, 18.5, 1e-6);
  Claim label = claim_of(ClaimKind::existing_r, 18.5);
  label.basis = ClaimBasis::label;
  CHECK(is(held(quoted(), label), disagrees, "found-less"));
  CHECK_FALSE(held(quoted(), label).range_low);
  Claim effective =
      claim_of(ClaimKind::existing_r, run(quoted()).sections[0].existing.effective_r.us());
  effective.basis = ClaimBasis::effective;
  CHECK(is(held(quoted(), effective), agrees, "as-computed"));
}

// Invariant: a claim without a place is that of the one section that takes fill, or of the only
// one; a named one that of its name.
TEST_CASE("claims: the section is the one named, or the only one that can be meant") {
  Survey s = quoted();
  s.sections.push_back(hatch_section(6, 3));
  CHECK(is(held(s, claim_of(ClaimKind::existing_r, 17.5)), agrees, "as-computed"));
  CHECK(is(held(s, claim_of(ClaimKind::existing_r, 17.5, "flat")), agrees, "as-computed"));
  CHECK(is(held(s, claim_of(ClaimKind::existing_r, 17.5, "hatch")), disagrees, "found-less"));
  CHECK(is(held(s, claim_of(ClaimKind::existing_r, 17.5, "cellar")), not_judged, "which-section"));
  Section second = loose_section({5, 5});
  second.name = "wing";
  s.sections.push_back(second);
  CHECK(is(held(s, claim_of(ClaimKind::existing_r, 17.5)), not_judged, "which-section"));
  CHECK(is(held(s, claim_of(ClaimKind::existing_r, 17.5, "wing")), agrees, "as-computed"));
  const Evaluation e = run(s);  // bags without a place are those of all sections
  const double all =
      std::ceil(*e.planned.low.sections[0].bags_exact + *e.planned.low.sections[2].bags_exact);
  CHECK(held(s, claim_of(ClaimKind::bags, all)).computed_low == all);
  CHECK(held(s, claim_of(ClaimKind::bags, all, "wing")).computed_low ==
        std::ceil(*e.planned.low.sections[2].bags_exact));
  Survey met = survey_of({loose_section({20, 20}), hatch_section(6, 3)}, 38, 49);
  CHECK(is(held(met, claim_of(ClaimKind::existing_r, 70)), not_judged, "which-section"));
}

// Hand derivation: settled depth is 0.8 of the blown one (cellulose, high end of its row), so mean
// new depths follow from the level: blown level x, settled new 0.8 (x - 5), in all 5 + 0.8 (x - 5).
TEST_CASE("claims: inches added, as blown and settled each have their own figure") {
  const double level = run(quoted()).planned.low.sections[0].initial_level->us();
  near(*held(quoted(), claim_of(ClaimKind::added_in, 9)).computed_low, 0.8 * (level - 5), 1e-9);
  near(*held(quoted(), claim_of(ClaimKind::settled_in, 9)).computed_low, 5 + 0.8 * (level - 5),
       1e-9);
  near(*held(quoted(), claim_of(ClaimKind::initial_in, 9)).computed_low,
       run(quoted()).planned.low.sections[0].level_exact->us(), 1e-9);
  Survey met = quoted();
  for (Reading& r : met.sections[0].readings) r.depth = r.depth_to = inches(20);
  CHECK(is(held(met, claim_of(ClaimKind::bags, 5)), disagrees, "nothing-needed"));
  CHECK(is(held(met, claim_of(ClaimKind::added_in, 5)), not_judged, "not-known"));
}

// Hand derivation: what is sure takes the inches from the exact level to the confident one on top;
// bags by the same share of the depth as blown.
TEST_CASE("claims: what is enough at 90 percent is the mean and the way to the confident level") {
  const TopUp t = run(quoted()).planned.low.sections[0];
  REQUIRE(t.confident_level);
  const double more = t.confident_level->us() - t.level_exact->us(),
               sure = t.new_depth->mean.us() + more;
  CHECK(more > 0);
  CHECK(is(held(quoted(), claim_of(ClaimKind::added_in, sure)), agrees, "enough"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::added_in, sure - 0.01)), too_near, "mean-only"));
  const double bags = std::ceil(*t.bags_exact * (1 + more / (t.initial_level->us() - 5)));
  CHECK(is(held(quoted(), claim_of(ClaimKind::bags, bags)), agrees, "enough"));
  CHECK(is(held(quoted(), claim_of(ClaimKind::bags, bags - 1)), too_near, "mean-only"));
  Survey once = quoted();
  once.sections[0].readings.resize(1);  // unevenness unknown: nothing is sure
  CHECK(is(held(once, claim_of(ClaimKind::bags, 500)), too_near, "not-sure"));
}

// Hand derivation: percent of the ceiling's loss, 100 (1 - UA_after/UA_found), up to a whole one;
// the ceiling's share of the bills times that where bills are given: here 24·UA·6000 over (400 x
// 100,000 x 0.8).
TEST_CASE("claims: percent saved is that of the ceiling, and of the bills where they are given") {
  Survey plain = quoted();
  plain.sections[0].layers[0].material = "glass-fiber-loose";  // 2.3 to 2.7 an inch
  const Evaluation e = run(plain);
  const double ceiling = 100 * (1 - e.planned.high.attic.ua / e.attic.existing.ua);
  near(*held(plain, claim_of(ClaimKind::percent_saved, 5)).computed_high, ceiling, 1e-9);
  Survey billed = plain;
  billed.heating->bills = HeatingBills{400, {}};
  const double share = 24 * e.attic.existing.ua.us() * 6000 / (400 * 1e5 * 0.8);
  REQUIRE(share < 0.5);
  const ClaimResult r =
      held(billed, claim_of(ClaimKind::percent_saved, std::ceil(ceiling * share)));
  near(*r.computed_high, ceiling * share, 1e-6);
  CHECK(is(r, agrees, "not-more"));
  // Up to the figure with the existing R at the low end of its range the claim is too close to
  // call.
  const double low_r = e.attic.existing.effective_r_range->low.us(),
               most = e.attic.area.us() / low_r;
  const double at_most = std::ceil(100 * (1 - e.planned.high.attic.ua.us() / most) * share);
  REQUIRE(at_most > std::ceil(ceiling * share));
  CHECK(is(held(billed, claim_of(ClaimKind::percent_saved, at_most)), too_near, "within-range"));
  CHECK(is(held(billed, claim_of(ClaimKind::percent_saved, at_most + 1)), disagrees,
           "more-than-bills-bear"));
  // 100 therms do not bear the ceiling's loss: it is believed to be half of the bills
  // (data/money.json), so half of its fall is saved.
  billed.heating->bills = HeatingBills{100, {}};
  near(*held(billed, claim_of(ClaimKind::percent_saved, 5)).computed_high, ceiling * 0.5, 1e-6);
  Survey unpriced = quoted();
  unpriced.heating->price_per_unit.reset();
  CHECK(is(held(unpriced, claim_of(ClaimKind::annual_saving, 5)), not_judged, "not-priced"));
}
