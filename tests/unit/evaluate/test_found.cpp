// SPDX-License-Identifier: MIT
// What was found: weights, and what must come out.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

// Hand derivation: a layer that lies nowhere weighs nothing, though its density is not known
// (perlite): 6 in. of cellulose at 2 lb/ft3 are 1 lb/ft2.
TEST_CASE("found: a layer of unknown density leaves the weight unknown only where it lies") {
  Section s = flat_section();
  s.layers = {layer_of("cellulose-loose"), layer_of("perlite")};
  s.layers[0].thickness = inches(6);
  s.readings = {reading_of_layers({6, 0}), reading_of_layers({6, 0})};
  near(run(survey_of({s})).sections[0].existing.weight.value_or(MassPerArea::from_us(-1)).us(), 1,
       kNoise);
  s.readings = {reading_of_layers({6, 0}), reading_of_layers({6, 1})};
  CHECK_FALSE(run(survey_of({s})).sections[0].existing.weight);
}

// Hand derivation: wet fill of 6 in. on two spots of three: 1,000 ft2 x 2/3, half a foot deep.
TEST_CASE("found: what comes out is counted where it lies") {
  Section s = loose_section({0, 6, 6});
  s.layers[0].condition = Condition::wet;
  const WholeSection r = section_of(run(survey_of({s})));
  REQUIRE(r.removals.size() == 1);
  near(r.removals[0].area.us(), 2000.0 / 3, 1e-9);
  near(r.removals[0].volume.us(), 1000.0 / 3, 1e-9);
}
