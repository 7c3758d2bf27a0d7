// SPDX-License-Identifier: MIT
// Ranges after the work.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

// Invariant: a layer that comes out is in no range after the work: 4 in. of rock wool under 4 in.
// of cellulose to be removed end as 4 in. of rock wool do.
TEST_CASE("spread: what comes out leaves the range after the work, whichever layer it is") {
  Section both = flat_section(), alone = flat_section();
  both.layers = {layer_of("rock-wool-loose"), layer_of("cellulose-loose")};
  both.layers[0].thickness = inches(4);
  both.layers[1].condition = Condition::remove;
  alone.layers = {layer_of("rock-wool-loose")};
  for (int i = 0; i < 4; ++i) {
    both.readings.push_back(reading_of(8));
    alone.readings.push_back(reading_of(4));
  }
  const TopUp with = run(survey_of({both})).planned.high.sections[0],
              without = run(survey_of({alone})).planned.high.sections[0];
  near(with.working_r.us(), without.working_r.us(), 1e-6);
  near(with.working_r_range->low.us(), without.working_r_range->low.us(), 1e-6);
  near(with.working_r_range->high->us(), without.working_r_range->high->us(), 1e-6);
}

// Invariant: even readings under a chart leave nothing uncertain after the work but the label: both
// ends of the range as printed are the figure itself, by each framing method.
TEST_CASE(
    "spread: without scatter or a material's range the range is the figure, by each "
    "method") {
  for (const FramingMethod method :
       {FramingMethod::parallel, FramingMethod::planes, FramingMethod::mean}) {
    Tables t = tables();
    t.framing_method = method;
    Section s = flat_section();
    s.readings = {reading_of(0), reading_of(0), reading_of(0)};
    const TopUp r = evaluate(with_chart(survey_of({s}, 38, 38)), t).planned.high.sections[0];
    near(r.effective_r_printed->low.us(), r.effective_r.us(), 1e-9);
    near(r.effective_r_range->high->us(), r.effective_r.us(), 1e-9);
    near(r.working_r_printed->low.us(), r.working_r.us(), 1e-9);
  }
}
