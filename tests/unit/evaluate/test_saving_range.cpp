// SPDX-License-Identifier: MIT
// Money with the range that follows from those of R (method eq. 15c).
#include <doctest/doctest.h>

#include <cmath>

#include "fixtures.hpp"
#include "plain_floor.hpp"

using namespace fixtures;

namespace {

Survey priced(const std::vector<double>& depths) { return priced_with_gas(plain_survey(depths)); }

/// Money for a UA of 1 over the year: 24 h of 6000 F day, gas of 100,000 Btu at 0.8 and 1.2.
constexpr double kPerUa = 24.0 * 6000 / 100000 / 0.8 * 1.2;

struct Ends90 {
  double low, high;
};

/// By the ranges of R that the result prints, 1,000 ft2, no attic air between.
Ends90 by_ranges(const Evaluation& e) {
  const AtticState &now = e.attic.existing, &then = e.planned.high.attic;
  const auto u = [](Resistance r) { return 1000 / r.us(); };
  const double saved = u(now.effective_r) - u(then.effective_r);
  const double worse = u(now.effective_r_range->low) - u(now.effective_r),
               better = u(now.effective_r) - u(*now.effective_r_range->high);
  const double after_worse = u(then.effective_r_range->low) - u(then.effective_r),
               after_better = u(then.effective_r) - u(*then.effective_r_range->high);
  return {std::max(0.0, kPerUa * (saved - std::hypot(better, after_worse))),
          kPerUa * (saved + std::hypot(worse, after_better))};
}

}  // namespace

// Symptom: money carried no range at all. Independent: worked out here from the ranges of R that
// the same result prints; 1e-6 of it for the order of sums.
TEST_CASE("saving range: both ends follow from the ranges of R as found and after") {
  for (const bool measured : {true, false}) {
    Survey s = priced({3, 4, 5, 6, 8});
    if (measured) s.sections[0].bare_share = 0.05;
    const Evaluation e = run(s);
    const Totals& t = e.planned.high.totals;
    const Ends90 want = by_ranges(e);
    near(*t.saving_low, want.low, 1e-6 * want.high);
    near(*t.saving_high, want.high, 1e-6 * want.high);
    CHECK(*t.saving_low < *t.measure.annual_saving);
    CHECK(*t.saving_high > *t.measure.annual_saving);
  }
}

// Hand derivation: payback is cost over saving, so its low end belongs to the high saving; present
// value and SIR go with the saving in proportion.
TEST_CASE("saving range: payback, present value and SIR follow from it") {
  const Evaluation e = run(priced({3, 4, 5, 6, 8}));
  const WorthLine& line = e.planned.high.totals.measure;
  REQUIRE(line.range.has_value());
  const WorthRange& r = *line.range;
  near(*r.payback_low, *line.cost / r.saving_high, kNoise);
  near(*r.payback_high, *line.cost / r.saving_low, 1e-9 * *r.payback_high);
  near(*r.present_low / r.saving_low, *line.present_value / *line.annual_saving, 1e-9);
  near(*r.sir_high / r.saving_high, *line.sir / *line.annual_saving, 1e-9);
}

// Invariant: what is not touched cancels out: a floor over its target beside the one that is filled
// leaves the range of the saving as it is.
TEST_CASE("saving range: a section that stays as it is adds nothing to it") {
  Survey one = priced({3, 4, 5, 6, 8});
  Survey two = one;
  Section met = one.sections[0];
  met.name = "met";
  for (Reading& r : met.readings) r.depth = r.depth_to = r.depth + inches(30);
  two.sections.push_back(met);
  const Totals a = run(one).planned.high.totals, b = run(two).planned.high.totals;
  near(*a.saving_low, *b.saving_low, 1e-6);
  near(*a.saving_high, *b.saving_high, 1e-6);
}

// Invariant: where the bills refute the saving, no end of any figure of money is above what they
// bear: the share allowed of them, at the fuel's price, as if the ceiling then lost nothing more.
TEST_CASE("saving range: bills cap every figure of money") {
  Survey s = priced({3, 4, 5, 6, 8});
  s.heating->bills = HeatingBills{30, 0.0, 0.5};
  const Evaluation e = run(s);
  REQUIRE(e.heating->bills->factor < 1.0);
  const Totals& t = e.planned.high.totals;
  const double most = 30 * 0.5 * 1.2, by_bills = *t.year_by_bills->fuel.money;
  CHECK(*t.saving_high <= most);
  CHECK(*t.saving_low <= by_bills);
  near(*t.measure.annual_saving, by_bills, kNoise);
  near(*t.package.payback, *t.package.cost / by_bills, 1e-9 * *t.package.payback);
  near(*t.measure.payback, *t.measure.cost / by_bills, 1e-9 * *t.measure.payback);
  near(*t.measure.sir, *t.measure.present_value / *t.measure.cost, kNoise);
  double steps = 0;
  for (std::size_t i = 1; i < e.steps.size() && e.steps[i].step != "beyond"; ++i)
    steps += *e.steps[i].annual_saving;
  near(steps, by_bills, 1e-6);
  for (std::size_t i = 1; i < e.steps.size(); ++i) CHECK(e.steps[i].range->saving_high <= most);
}

// Invariant: each step holds its central saving, and the first one, which starts from the attic as
// found, is the least sure; the step to stop at by the low end is never a later one.
TEST_CASE("saving range: steps carry it, and the low end stops no later") {
  const Evaluation e = run(priced({3, 4, 5, 6, 8}));
  REQUIRE(e.steps.size() > 2);
  const auto width = [](const StepResult& s) {
    return (s.range->saving_high - s.range->saving_low) / *s.annual_saving;
  };
  std::size_t central = 0, low = 0;
  for (std::size_t i = 1; i < e.steps.size(); ++i) {
    const StepResult& s = e.steps[i];
    CHECK(s.range->saving_low <= *s.annual_saving);
    CHECK(s.range->saving_high >= *s.annual_saving);
    if (s.step == e.last_worthwhile) central = i;
    if (s.step == e.last_worthwhile_low) low = i;
  }
  for (std::size_t i = 2; i < e.steps.size(); ++i) CHECK(width(e.steps[i]) < width(e.steps[1]));
  CHECK(low <= central);
}

// Hand derivation: one reading of 12 in., R-37.5: the prior alone lets U lie 0.533 below, R-80,
// above the R-49 after: it may save nothing.
TEST_CASE("saving range: a saving that may be nothing never pays back at its low end") {
  Survey s = priced({12});
  s.sections[0].bare_share = 0.0;
  const Evaluation e = run(s);
  const WorthRange& r = *e.planned.high.totals.measure.range;
  CHECK(r.saving_low == 0.0);
  CHECK_FALSE(r.payback_high.has_value());
  CHECK(r.payback_low.has_value());
}
