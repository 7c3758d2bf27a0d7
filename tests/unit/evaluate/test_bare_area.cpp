// SPDX-License-Identifier: MIT
// Bare area, shares and labels in the ranges of a result (method eq. 15, 15b).
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "fixtures.hpp"
#include "plain_floor.hpp"

using namespace fixtures;

namespace {

Reading span_of(double from, double to) {
  Reading r = reading_of(from);
  r.depth_to = inches(to);
  return r;
}

const ExistingResult& found(const Evaluation& e) { return e.sections[0].existing; }

double low_r(const Evaluation& e) { return found(e).effective_r_range->low.us(); }
double high_r(const Evaluation& e) { return found(e).effective_r_range->high->us(); }

}  // namespace

// Symptom: a bare area could only be told as readings of 0. Invariant: a quarter measured as bare
// beside three readings counts as four readings of which one is 0: R, depth, level and bags.
TEST_CASE("bare area: what was measured counts as bare readings of that share") {
  Survey measured = plain_survey({8, 9, 10}), sampled = plain_survey({0, 8, 9, 10});
  measured.sections[0].bare_share = 0.25;
  for (Survey* s : {&measured, &sampled}) s->proposal->bag_net = Mass::from_us(25);
  const Evaluation a = run(measured), b = run(sampled);
  near(found(a).working_r.us(), found(b).working_r.us(), kNoise);
  near(found(a).effective_r.us(), found(b).effective_r.us(), kNoise);
  near(found(a).mean_depth.us(), found(b).mean_depth.us(), kNoise);
  near(found(a).weight->us(), found(b).weight->us(), kNoise);
  const TopUp &up_a = a.planned.high.sections[0], &up_b = b.planned.high.sections[0];
  CHECK(up_a.initial_level == up_b.initial_level);
  near(*up_a.bags_exact, *up_b.bags_exact, kNoise);
}

// Hand derivation: 8, 9, 10, 11, 12 in. of R 3.125 an inch over 1.67: mean U 0.03113906 and
// t·s/sqrt(5) = 0.00458219 (reference 7.2); a tenth bare of U 1/1.67 = 0.5988024: u = 0.08790540,
// half = hypot(1.644854·0.15·0.1·0.5676633, 0.9·0.00458219) = hypot(0.01400575, 0.00412397) =
// 0.01460030: R 9.7557 to 13.6416. Worked to six digits.
TEST_CASE("bare area: its error and that of the fill add in squares") {
  Survey s = plain_survey({8, 9, 10, 11, 12});
  s.sections[0].bare_share = 0.1;
  double mean = 0, squares = 0;
  for (const double d : {8, 9, 10, 11, 12}) mean += 0.2 / (kRs + kPerInch * d);
  for (const double d : {8, 9, 10, 11, 12}) squares += std::pow(1 / (kRs + kPerInch * d) - mean, 2);
  const double half = 2.131847 * std::sqrt(squares / 4 / 5), bare = 1 / kRs;
  const double u = 0.1 * bare + 0.9 * mean,
               whole = std::hypot(1.644854 * 0.15 * 0.1 * (bare - mean), 0.9 * half);
  near(low_r(run(s)), 1 / (u + whole), 1e-5);
  near(high_r(run(s)), 1 / (u - whole), 1e-5);
  s.sections[0].bare_error = 0.0;
  near(low_r(run(s)), 1 / (u + 0.9 * half), 1e-5);
}

// Symptom: a demo-like attic, ten readings of which one is 0, was "R-2.7 to R-72.2". Source: the
// same with a tenth measured goes to some, and without it to by
// another program, of a fill and films that are not those here: within an R.
TEST_CASE("bare area: a measured one narrows the range, and without it there is an upper end") {
  Survey s = plain_survey({3, 4, 4, 4.5, 5, 5, 5.5, 6, 7});
  s.sections[0].bare_share = 0.1;
  const double low = low_r(run(s)), high = high_r(run(s));
  s = plain_survey({0, 3, 4, 4, 4.5, 5, 5, 5.5, 6, 7});
  CHECK(low_r(run(s)) < low);
  CHECK(high_r(run(s)) > high);
  CHECK(high / low < 1.6);
  CHECK(found(run(s)).effective_r_range->high.has_value());
}

// Symptom: a reading of 0 beside the measured area counts the bare part twice. Invariant: refused
// from below half an inch, a share of 0 included.
TEST_CASE("bare area: a reading of 0 beside it is refused") {
  for (const double share : {0.1, 0.0})
    for (const double depth : {0.0, 0.49}) {
      Survey s = plain_survey({8, 9, depth});
      s.sections[0].bare_share = share;
      CHECK_THROWS_AS(run(s), Error);
    }
  Survey s = plain_survey({8, 9, 0.5});
  s.sections[0].bare_share = 0.1;
  CHECK_NOTHROW(run(s));
}

// Symptom: one span "4 to 8" looked surer than two readings 4 and 8, and a single reading certain.
// Invariant: a span holds the range of its ends read apart, within a third of it; one reading of a
// fill without a range leaves more than a tenth open.
TEST_CASE("bare area: a span is less sure than its two ends, and one reading is not certain") {
  Survey span = plain_survey({});
  span.sections[0].readings = {span_of(4, 8)};
  const Evaluation one = run(span), two = run(plain_survey({4, 8}));
  CHECK(low_r(one) <= low_r(two));
  CHECK(high_r(one) >= high_r(two));
  near(low_r(one), low_r(two), low_r(two) / 3);
  const Evaluation single = run(plain_survey({8}));
  CHECK(low_r(single) < 0.9 * found(single).effective_r.us());
  CHECK(high_r(single) > 1.1 * found(single).effective_r.us());
  CHECK(assumes(single, "bare-not-measured"));
}

// Hand derivation: shares 0.7 of 8 in. and 0.3 of 4 in., one reading each: u_i = 1/(1.67 +
// 3.125·d); half = t(4)·0.25·sqrt((0.7·u_1)² + (0.3·u_2)²), t 2.131847.
TEST_CASE("bare area: shares that are given are strata") {
  Survey s = plain_survey({});
  s.sections[0].readings = {reading_of(8, 0.7), reading_of(4, 0.3)};
  const double a = 1 / (kRs + kPerInch * 8), b = 1 / (kRs + kPerInch * 4), u = 0.7 * a + 0.3 * b;
  const double half = 2.131847 * 0.25 * std::hypot(0.7 * a, 0.3 * b);
  const Evaluation e = run(s);
  near(low_r(e), 1 / (u + half), 1e-5);
  near(high_r(e), 1 / (u - half), 1e-5);
  CHECK_FALSE(assumes(e, "bare-not-measured"));
  CHECK_FALSE(found(e).measure_bare);
}

// Invariant: no range goes below the bare ceiling, whatever the readings.
TEST_CASE("bare area: no range is below the bare ceiling") {
  for (const std::vector<double>& depths :
       std::vector<std::vector<double>>{{0, 0.6}, {0, 0, 0, 9}, {0.5}, {0, 20}}) {
    const Evaluation e = run(plain_survey(depths));
    CHECK(low_r(e) >= kRs - kNoise);
    CHECK(low_r(e) <= found(e).effective_r.us() + kNoise);
    CHECK(high_r(e) >= found(e).effective_r.us() - kNoise);
  }
}

// Source: 16 CFR 460.8: no specimen more than 10 % below its label. Hand derivation: a bare floor
// with no scatter: working R after is the new fill's own, its low end 0.9 of that, its high end the
// figure.
TEST_CASE("bare area: new goods with a label may lie 10 percent below it, and not above") {
  Section s = flat_section();
  s.readings = {reading_of(0), reading_of(0), reading_of(0)};
  const TopUp blown = run(with_chart(survey_of({s}, 30, 38))).planned.high.sections[0];
  near(blown.working_r_range->low.us(), 0.9 * blown.working_r.us(), 1e-6);
  near(blown.working_r_printed->low.us(), blown.working_r.us(), 1e-6);
  near(blown.working_r_range->high->us(), blown.working_r.us(), 1e-6);
  CHECK(*blown.confident_level > *blown.initial_level);
  Survey laid = survey_of({s}, 30, 30);
  BattProduct batt;
  batt.name = "R-38";
  batt.thickness = inches(12);
  batt.label_r = r_value(38);
  batt.coverage = square_feet(40);
  laid.proposal->batts = {batt};
  const TopUp t = run(laid).planned.high.sections[0];
  near(t.working_r_range->low.us(), t.working_r.us() - 3.8, 1e-6);
  near(t.working_r_range->high->us(), t.working_r.us(), 1e-6);
}

// Invariant: the advice is to measure the bare area where nobody did, then so many readings as the
// scatter of the fill takes, and never more than 60.
TEST_CASE("bare area: the advice is to measure it, then a number of readings that people take") {
  Survey s = plain_survey({8, 9, 10, 11, 12});
  CHECK(found(run(s)).measure_bare);
  CHECK(found(run(s)).readings_more == 23);  // Source: reference 7.2: 28 in all
  s.sections[0].bare_share = 0.0;
  CHECK_FALSE(found(run(s)).measure_bare);
  CHECK(found(run(s)).readings_more == 23);
  const ExistingResult wild = found(run(plain_survey({1, 20, 3, 15, 2, 9})));
  CHECK(wild.measure_bare);
  CHECK_FALSE(wild.readings_more.has_value());
  CHECK_FALSE(wild.readings_needed.has_value());
}

// Invariant: the level that is sure to reach the target weighs more than the planned one; where the
// ceiling bears the one alone the result says so.
TEST_CASE("bare area: a confident level that the ceiling does not bear is told apart") {
  bool light = false, heavy = false;
  for (double target = 22; target < 60; target += 2) {
    Section s = loose_section({2, 3, 4});
    s.bare_share = 0.0;
    const TopUp t = run(survey_of({s}, target, target)).planned.high.sections[0];
    REQUIRE(t.weight_limit.has_value());
    REQUIRE(t.confident_level.has_value());
    const bool planned = reaches(t.weight_limit->us(), t.weight_greatest->us());
    light = light || !t.confident_too_heavy;
    heavy = heavy || (planned && t.confident_too_heavy);
    CHECK((planned || t.confident_too_heavy));
  }
  CHECK(light);
  CHECK(heavy);
}

// Derivation under test: leveled fill of the old fill's R per inch gives back what its depth lacks,
// so the prior leaves no variation. Hand derivation: two readings of 6 in. with no bare part, the
// same fill blown on: R after is that of one depth, and only the prior would blur it.
TEST_CASE("bare area: leveled fill like the old one leaves nothing of the prior's variation") {
  Survey s = plain_survey({6, 6});
  s.sections[0].bare_share = 0.0;
  const TopUp like = run(s).planned.high.sections[0];
  near(like.effective_r_range->low.us(), like.effective_r.us(), 1e-6);
  s.materials[0].settling_high = 0.2;
  const TopUp settles = run(s).planned.high.sections[0];
  CHECK(settles.effective_r_range->low.us() < settles.effective_r.us() - 0.1);
}
