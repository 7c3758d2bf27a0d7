// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

// Hand derivation: readings 0, 2, 6 and 6 in. of loose cellulose in 2x6 joists (1.5 x 5.5) at 16
// in. New fill blown to the level L settles by a fifth (the table's high end): 0.8·(L - d) at each
// spot, L being the level of the same result.
TEST_CASE("cut: thinnest and deepest spot carry what was read and what settles on them") {
  const WholeSection s = section_of(run(survey_of({loose_section({6, 0, 6, 2})})));
  REQUIRE(s.cut);
  const SectionCut& cut = *s.cut;
  near(cut.joist_width.us(), 1.5, kNoise);
  near(cut.joist_depth.us(), 5.5, kNoise);
  near(cut.spacing.us(), 16, kNoise);
  near(cut.ceiling_thickness.value_or(Length{}).us(), 0.5, kNoise);
  near(cut.least.reading.us(), 0, kNoise);
  near(cut.greatest.reading.us(), 6, kNoise);
  near(cut.greatest.layers.at(0).us(), 6, kNoise);
  near(cut.greatest.stays.us(), 6, kNoise);
  for (const bool high : {false, true}) {
    const double level = (high ? s.high : s.low).initial_level->us();
    near((high ? cut.least.new_high : cut.least.new_low).us(), 0.8 * level, kNoise);
    near((high ? cut.greatest.new_high : cut.greatest.new_low).us(), 0.8 * (level - 6), kNoise);
  }
  REQUIRE(cut.depths.size() == 3);
  near(cut.depths[2].depth.us(), 6, kNoise);
  near(cut.depths[2].share, 0.5, kNoise);
}

// Invariant: put together in steps of depth, the readings keep their mean depth and the whole area;
// order and count stay in bounds.
TEST_CASE("cut: many depths are put together without losing area or mean") {
  std::vector<double> depths;
  for (int i = 0; i < 500; ++i) depths.push_back(0.013 * i);
  const WholeSection s = section_of(run(survey_of({loose_section(depths)})));
  double share = 0.0, mean = 0.0, last = -1.0;
  for (const DepthShare& d : s.cut->depths) {
    CHECK(d.depth.us() > last);
    last = d.depth.us();
    share += d.share;
    mean += d.share * d.depth.us();
  }
  CHECK(s.cut->depths.size() == kMostDepths);
  near(share, 1, kNoise);
  near(mean, s.existing.mean_depth.us(), kNoise);
}

// Hand derivation: 4 in. of wet fill over nothing comes out, so new fill starts at the ceiling; a
// batt laid across starts at the joist top, 5.5 in., and a batt of 6.25 in. lies on it: 11.75.
TEST_CASE(
    "cut: what comes out is gone from below the new fill, what lies across lies on the joists") {
  Section wet = loose_section({4});
  wet.layers[0].condition = Condition::wet;
  const WholeSection out = section_of(run(survey_of({wet})));
  CHECK(out.cut->layers.at(0).comes_out);
  near(out.cut->least.surface.us(), 4, kNoise);
  near(out.cut->least.stays.us(), 0, kNoise);
  Section across = flat_section();
  across.layers = {batt_of(19, 6.25)};
  across.layers[0].lies = Lies::across;
  const WholeSection on = section_of(run(survey_of({across})));
  near(on.cut->least.surface.us(), 11.75, kNoise);
  CHECK_FALSE(on.cut->layers.at(0).loose);
}

// Common practice: a lid, a slope and a wall have no floor of joists to cut through.
TEST_CASE("cut: only floors have one") {
  const Evaluation e = run(survey_of({loose_section({3}), hatch_section(5, 2)}));
  CHECK(e.sections[0].cut);
  CHECK_FALSE(e.sections[1].cut);
}

// Hand derivation: the sums up to a step are the steps so far added up; a step that is not priced
// has none, nor has any after it.
TEST_CASE("next steps: cost and saving so far add up") {
  const Evaluation e = run(priced_with_gas(survey_of({loose_section({3, 5})})));
  REQUIRE(e.steps.size() > 2);
  CHECK_FALSE(e.steps[0].cost_so_far);
  near(*e.steps[2].cost_so_far, *e.steps[1].cost + *e.steps[2].cost, kNoise);
  near(*e.steps[2].saving_so_far, *e.steps[1].annual_saving + *e.steps[2].annual_saving, kNoise);
  Survey unpriced = priced_with_gas(survey_of({loose_section({3, 5})}));
  unpriced.proposal->labour.reset();
  const Evaluation without = run(unpriced);
  CHECK_FALSE(without.steps[1].cost_so_far);
  CHECK(without.steps[1].saving_so_far);
}
