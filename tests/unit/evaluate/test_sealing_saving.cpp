// SPDX-License-Identifier: MIT
// What sealing saves in the package, and the roof of an unvented attic, held against sums that are
// written out here.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

/// Gas at 0.8 and 1.2 a therm over 6000 F day at base 65 F; all priced, 90 of it for safety and so
/// in the package alone.
Survey priced() {
  Survey s = priced_with_gas(survey_of({loose_section({5, 5, 5, 5, 5})}));
  s.proposal->extras = {{"light covers", 90, CostPart::safety}};
  return s;
}

Survey leaky() {
  Survey s = priced();
  s.sections[0].bypasses = {{"flue", "furnace", 1, {}, {}, {}}};
  s.site.outdoor_mean_f = 45;
  s.site.outdoor_sd_f = 18;
  return s;
}

}  // namespace

// Hand derivation: 40 a year beside the ceiling's saving; UPV(3 %, 30 years) = (1 - 1.03^-30)/0.03
// = 19.6004.
TEST_CASE("sealing saving: a given one joins the package and not the measure") {
  Survey s = priced();
  const Evaluation without = run(s);
  s.money = MoneyWish{};
  s.money->sealing_saving_per_year = 40;
  const Evaluation e = run(s);
  near(*e.planned.high.totals.measure.annual_saving,
       *without.planned.high.totals.measure.annual_saving, 0);
  near(*e.planned.high.totals.package.annual_saving,
       *e.planned.high.totals.measure.annual_saving + 40, kNoise);
  const double upv = (1 - std::pow(1.03, -30)) / 0.03;
  near(*e.planned.high.totals.package.present_value,
       (*e.planned.high.totals.measure.annual_saving + 40) * upv,
       1e-6);  // rounding noise of some thousands
  near(*e.planned.high.totals.package.sir,
       *e.planned.high.totals.package.present_value / *e.planned.high.totals.package.cost, kNoise);
  near(*e.planned.high.totals.package.payback,
       *e.planned.high.totals.package.cost / *e.planned.high.totals.package.annual_saving, kNoise);
  CHECK(assumes(e, "sealing-saving-given"));
  CHECK_FALSE(assumes(e, "sealing-not-counted"));
}

// Hand derivation: heat of the leaks as found less that of the same leaks sealed, over 0.8 and
// 100,000 Btu a therm, at 1.2.
TEST_CASE(
    "sealing saving: an accepted upper bound is the leaks' heat at the fuel's price, and is called "
    "a bound") {
  Survey s = leaky();
  s.money = MoneyWish{};
  s.money->accept_sealing_upper_bound = true;
  const Evaluation e = run(s);
  REQUIRE(e.sealing_saving);
  CHECK(e.sealing_saving->upper_bound);
  const double btu = e.plan.leak.typical->us() - e.plan.leak.tight->us();
  CHECK(btu > 0);
  near(e.sealing_saving->per_year, btu / 0.8 / 1e5 * 1.2, kNoise);
  near(*e.planned.low.totals.package.annual_saving,
       *e.planned.low.totals.measure.annual_saving + e.sealing_saving->per_year, kNoise);
  CHECK(assumes(e, "sealing-upper-bound"));
}

// Invariant: nothing is counted that was not given or accepted, and a wish that cannot be met is
// said.
TEST_CASE("sealing saving: not counted unless given or accepted, and said where it cannot be") {
  CHECK(assumes(run(leaky()), "sealing-not-counted"));
  CHECK_FALSE(run(leaky()).sealing_saving);
  Survey s = priced();  // no leak of known size
  s.money = MoneyWish{};
  s.money->accept_sealing_upper_bound = true;
  CHECK_FALSE(run(s).sealing_saving);
  CHECK(assumes(run(s), "sealing-saving-unusable"));
  CHECK(assumes(run(s), "sealing-not-counted"));
  s = leaky();
  s.heating->price_per_unit = {};
  s.money = MoneyWish{};
  s.money->sealing_saving_per_year = 40;
  CHECK(assumes(run(s), "sealing-saving-unusable"));
  CHECK_FALSE(run(s).planned.low.totals.package.annual_saving);
}

// Hand derivation: 1/UA = 1/UA_ceiling + R_roof/A_roof for both sides of the work; the R of the
// ceiling stays what it was.
TEST_CASE(
    "unvented attic: the saving counts roof and ceiling in series, the effective R is the "
    "ceiling's") {
  Survey s = priced();
  const Evaluation vented = run(s);
  s.site.attic = AtticKind::unvented;
  s.site.roof_r = r_value(5);
  s.site.roof_area = square_feet(1200);
  const Evaluation e = run(s);
  const auto series = [](Conductance ua) { return 1 / (1 / ua.us() + 5.0 / 1200); };
  REQUIRE(e.planned.low.totals.year);
  const double btu =
      24 * 6000 * (series(vented.attic.existing.ua) - series(vented.planned.low.attic.ua));
  near(e.planned.low.totals.year->heat.us(), btu, btu * kNoise);
  CHECK(e.planned.low.totals.year->heat < vented.planned.low.totals.year->heat);
  near(e.attic.existing.effective_r.us(), vented.attic.existing.effective_r.us(), 0);
  near(e.steps.front().effective_r.us(), vented.steps.front().effective_r.us(), kNoise);
  near(e.steps[1].effective_r.us(), vented.steps[1].effective_r.us(), kNoise);
  // The steps add up to the whole up to the high end.
  double sum = 0;
  for (const StepResult& step : e.steps)
    sum += step.step == "beyond" ? 0.0 : step.annual_saving.value_or(0.0);
  near(sum, *e.planned.high.totals.measure.annual_saving, 1e-6);  // rounding noise of some hundreds
  CHECK(assumes(e, "unvented-attic"));
  CHECK(assumes(e, "unvented-roof"));
  CHECK_FALSE(assumes(e, "vented-attic"));
}

// Invariant: no figure rather than a wrong one (model 13).
TEST_CASE("unvented attic: without the roof's R and area there is no saving, and that is said") {
  Survey s = priced();
  s.site.attic = AtticKind::unvented;
  s.site.roof_r = r_value(5);
  s.cooling = Cooling{3.0, {}, 5000.0, {}};
  const Evaluation e = run(s);
  CHECK_FALSE(e.heating);
  CHECK_FALSE(e.planned.low.totals.year);
  CHECK(e.steps.empty());
  CHECK(assumes(e, "unvented-no-roof"));
  CHECK(assumes(e, "unvented-no-cooling"));
  CHECK_FALSE(e.planned.low.totals.cooling);
}
