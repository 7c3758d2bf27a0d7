// SPDX-License-Identifier: MIT
// Levels of a blow, and what limits them.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

// Hand derivation: 5.5 in. joists: R-13 of cellulose is 4.64 in. as blown, but an open floor is
// blown to the joist tops. Without wood it is 4.75. Foam is tested in test_batts.cpp.
TEST_CASE("blown: an open floor is blown to the joist tops at least") {
  Survey s = survey_of({loose_section({0, 0})}, 13, 13);
  near(run(s).planned.high.sections[0].initial_level->us(), 5.5, kNoise);
  s.sections[0].joists->framing_fraction = 0.0;
  near(run(s).planned.high.sections[0].initial_level->us(), 4.75, kNoise);
}

// Hand derivation: R-38 over nothing is 38/3.5/0.8 = 13.571, up to 13.75 in. as blown. Headroom
// of 13.75 in. holds it, 13.7 the exact level, R-38.36; 13.55 does not. 0.2 in. hold 0.16.
TEST_CASE("blown: what fits under the roof is blown to the roof") {
  Survey s = survey_of({loose_section({0, 0})}, 38, 38);
  const auto at = [&](double headroom) {
    s.sections[0].headroom = inches(headroom);
    return run(s).planned.high.sections[0];
  };
  near(at(13.75).initial_level->us(), 13.75, kNoise);
  CHECK(at(13.75).status == TopUpStatus::needed);
  CHECK(at(13.7).status == TopUpStatus::needed);
  near(at(13.7).working_r.us(), 38.36, 1e-9);
  CHECK(at(13.55).status == TopUpStatus::unreachable);
  near(at(13.55).initial_level->us(), 13.55, kNoise);
  near(at(13.55).working_r.us(), 37.94, 1e-9);
  near(at(0.2).initial_level->us(), 0.2, kNoise);
  near(at(0.2).new_depth->greatest.us(), 0.16, kNoise);
}

// Hand derivation: half-inch gypsum at 24 in. carries 1.3 lb/ft2: at 2 lb/ft3 settled 7.8 in., of 4
// in. old 3.8 new, 4.75 as blown: 8.75 in. Working R there 3.5 x 7.8 = 27.3.
TEST_CASE("blown: the best level within the ceiling's weight") {
  Survey s = survey_of({loose_section({4, 4})}, 49, 49);
  s.sections[0].joists->spacing = inches(24);
  const TopUp t = run(s).planned.high.sections[0];
  REQUIRE(t.within_weight);
  near(t.within_weight->initial_level.us(), 8.75, kNoise);
  near(t.within_weight->working_r.us(), 27.3, 1e-9);
  near(t.weight_greatest->us(), (4 + 0.8 * (t.initial_level->us() - 4)) / 6, 1e-9);
}

// Hand derivation: with no chart a bag holds its net weight: bags before waste are mass over 25 lb,
// at an eave too.
TEST_CASE("blown: at an eave mass and bags lose the same share") {
  Section s = loose_section({4, 5});
  s.eave = EaveSurvey{inches(5), 6.0, inches(600), {}, {}};
  Survey survey = survey_of({s});
  survey.proposal->bag_net = Mass::from_us(25);
  survey.proposal->waste_percent = 8.0;
  const TopUp t = run(survey).planned.high.sections[0];
  REQUIRE(t.eave);
  CHECK(*t.eave->bags_less > 0);
  near(*t.bags_exact, t.added_mass->us() / 25 * 1.08, 1e-9);
}
