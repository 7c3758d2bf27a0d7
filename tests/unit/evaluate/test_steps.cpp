// SPDX-License-Identifier: MIT
// Rows of the next-step table.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

// Symptom: where the low end would lose heat there was no table, though the high end has a cost and
// a saving; cause: the first stage ended it. Hand derivation: 12 in. of wet cellulose are
// dry at most (3.8 per inch); are less, R-60 is more.
TEST_CASE("steps: a stage that would lose heat is no step, and hides no later one") {
  Survey s = priced_with_gas(survey_of({loose_section({12, 12})}, 19, 60));
  s.sections[0].layers[0].condition = Condition::wet;
  const Evaluation e = run(s);
  CHECK(e.planned.low.totals.year->heat.us() < 0);
  CHECK(e.planned.high.totals.year->heat.us() > 0);
  REQUIRE(e.steps.size() >= 2);
  CHECK(e.steps[1].step == "high");
  near(*e.steps[1].cost, *e.planned.high.totals.measure.cost, 1e-6);
  near(*e.steps[1].annual_saving, *e.planned.high.totals.measure.annual_saving, 1e-6);
}

// Hand derivation: foam on 1,000 bare ft2: board feet are ft2 times inches, the level up to 1/4
// in.; 0.9 a board foot, labor 0.5 a ft2, both in the cost of the step.
TEST_CASE("steps: a step of foam costs its board feet") {
  Section bare = flat_section();
  bare.readings = {reading_of(0)};
  Survey s = survey_of({bare}, 30, 49);
  s.proposal->material = "spray-foam-open";
  s.proposal->price_per_board_ft = 0.9;
  s.proposal->labour = Labour{0.5, {}, {}};
  s.heating = heating_of("natural-gas", 0.8);
  s.heating->price_per_unit = 1.2;
  const Evaluation e = run(s);
  const double inches_low = e.planned.low.sections[0].initial_level->us();
  near(*e.planned.low.sections[0].board_ft_exact, 1000 * inches_low, 1e-9);
  REQUIRE(e.steps.size() >= 2);
  near(*e.steps[1].cost, 900 * inches_low + 500, 1e-6);
  near(*e.planned.low.totals.cost, 900 * inches_low + 500, 1e-6);
}
