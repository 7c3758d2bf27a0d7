// SPDX-License-Identifier: MIT
// Which planes of a section are held against the dew point, and where R is counted from (method eq.
// 18a). Rooms at 70 F and 40 %, attic at 10 F as in test_quote.cpp: dew point 44.59 F, safe share
// 0.4235. All products are invented.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

constexpr double kSafe = 0.4235;

BattProduct product(const std::string& material, double r, double thickness_in) {
  BattProduct p;
  p.name = material + " of the list";
  p.material = material;
  p.label_r = r_value(r);
  p.thickness = inches(thickness_in);
  p.coverage = square_feet(40);
  return p;
}

/// Even cellulose of 5.5 in. between 2x6, R-19.25, under a list of products, one target.
Survey laid(std::vector<BattProduct> list, double target) {
  Survey s = survey_of({loose_section({5.5, 5.5, 5.5})}, target, target);
  s.proposal = Proposal{};
  s.proposal->batts = std::move(list);
  s.winter = WinterSurvey{70, 40, 10};
  return s;
}

Survey faced(Facing facing, std::optional<FacingSide> side) {
  Section s = flat_section();
  s.layers = {batt_of(11, 3.5), batt_of(19, 6.25)};
  s.layers[1].lies = Lies::across;
  s.layers[1].facing = facing;
  s.layers[1].facing_side = side;
  s.readings = {reading_of(9.75), reading_of(9.75)};
  Survey survey = survey_of({s}, 49, 49);
  survey.winter = WinterSurvey{70, 40, 10};
  return survey;
}

}  // namespace

// Hand derivation: R-13 batt below, R-12 board (tight) on it: below the board's warm face 1.06
// + 19.25 + 13 = 33.31 of 1.52 + 44.25 in all.
TEST_CASE("moisture planes: a board that is laid on a batt has the batt below its warm face") {
  const Evaluation e =
      run(laid({product("glass-fiber-batt", 13, 3.5), product("polyiso-board", 12, 2)}, 44));
  const WholeSection s = section_of(e);
  REQUIRE(s.high.batts.size() == 2);
  CHECK_FALSE(s.high.batts[0].tight);
  CHECK(s.high.batts[1].tight);
  REQUIRE(s.moisture.size() == 1);
  near(s.moisture[0].high->r_share, 33.31 / 45.77, 1e-6);
  CHECK(s.moisture[0].high->wet_risk);
  CHECK(raises(e, "dew-point-risk"));
}

// Hand derivation: over a bare floor (2x6 flush with nothing) below a board lies 1.06 of 1.52 + 30
// in all, 0.034: no risk, and no caution; as found there is no such plane.
TEST_CASE("moisture planes: a board that keeps its face warm raises no caution") {
  Survey s = laid({product("polyiso-board", 30, 5)}, 30);
  s.sections = {flat_section()};
  s.sections[0].readings = {reading_of(0)};
  const Evaluation e = run(s);
  REQUIRE(e.sections[0].moisture.size() == 1);
  const MoisturePlane& m = e.sections[0].moisture[0];
  near(m.high->r_share, 1.06 / 31.52, 1e-6);
  CHECK(m.high->r_share < kSafe);
  CHECK_FALSE(m.high->wet_risk);
  CHECK_FALSE(m.before);
  near(m.dew_point_f, 44.59, 0.005);
  near(m.safe_share, kSafe, 1e-4);
  CHECK_FALSE(raises(e, "dew-point-risk"));
}

// Hand derivation: R-30 of the low end are met by the fill and 12 of board, R-60 by more of it. Low
// end: nothing else is laid. A risk at one end alone is a caution too: 1.06 + 19.25 = 20.31 of 1.52
// + 31.25 = 32.77 is 0.620; of 1.52 + 67.25 = 68.77 it is 0.295, below 0.4235.
TEST_CASE("moisture planes: a risk at one end of the band is enough for the caution") {
  Survey s = laid({product("polyiso-board", 12, 2), product("xps-board", 48, 9)}, 30);
  s.target.high = r_value(60);
  const Evaluation e = run(s);
  REQUIRE(e.sections[0].moisture.size() == 1);
  near(e.sections[0].moisture[0].low->r_share, 20.31 / 32.77, 1e-6);
  near(e.sections[0].moisture[0].high->r_share, 20.31 / 68.77, 1e-6);
  CHECK(e.sections[0].moisture[0].low->wet_risk);
  CHECK_FALSE(e.sections[0].moisture[0].high->wet_risk);
  CHECK(raises(e, "dew-point-risk"));
}

// Hand derivation: 3.5 in. of R-11 in 2x6 joists, R-19 across the tops. A facing on the ceiling
// side of the upper batt has 1.06 + 11 below it, on the attic side 1.06 + 11 + 19; in all 1.52
// + 30.
TEST_CASE(
    "moisture planes: a facing lies below its batt, or on top of it where the survey says so") {
  for (const auto& [side, below] : {std::pair(std::optional<FacingSide>(), 12.06),
                                    std::pair(std::optional(FacingSide::ceiling), 12.06),
                                    std::pair(std::optional(FacingSide::attic), 31.06)}) {
    const Evaluation e = run(faced(Facing::kraft, side));
    REQUIRE(e.sections[0].moisture.size() == 1);
    CHECK(e.sections[0].moisture[0].plane == "kraft facing");
    near(e.sections[0].moisture[0].before->r_share, below / 31.52, 1e-6);
  }
  CHECK(run(faced(Facing::foil, {})).sections[0].moisture.at(0).plane == "foil facing");
  CHECK(run(faced(Facing::none, {})).sections[0].moisture.empty());
}

// Invariant: a layer that comes out has no plane, nor has a section over a garage; without winter
// air nothing is said.
TEST_CASE(
    "moisture planes: none for what comes out, over rooms without heat, or without winter air") {
  Survey s = faced(Facing::kraft, {});
  CHECK(run(s).sections[0].moisture.size() == 1);
  s.sections[0].below = Below::unheated;
  CHECK(run(s).sections[0].moisture.empty());
  s.sections[0].below = Below::heated;
  s.sections[0].layers[1].condition = Condition::wet;
  CHECK(run(s).sections[0].moisture.empty());
  s.sections[0].layers[1].condition = Condition::sound;
  s.winter.reset();
  CHECK(run(s).sections[0].moisture.empty());
}

// Hand derivation: the wet batt below counts nothing: 1.06 below the facing; in all 1.52 + 19. A
// layer in half the spots counts half: two spots, one bare, 1.06 + 11/2.
TEST_CASE(
    "moisture planes: below the plane wet fill counts nothing, and what is missing at a spot is "
    "missing in the mean") {
  Survey s = faced(Facing::kraft, {});
  s.sections[0].layers[0].condition = Condition::soiled;
  near(run(s).sections[0].moisture.at(0).before->r_share, 1.06 / 20.52, 1e-6);
  Survey half = faced(Facing::kraft, FacingSide::ceiling);
  half.sections[0].readings = {reading_of_layers({3.5, 6.25}), reading_of_layers({0, 6.25})};
  const Evaluation e = run(half);
  const double working = 1 / (0.5 / 31.52 + 0.5 / 20.52) - 1.52;
  near(e.sections[0].moisture.at(0).before->r_share, (1.06 + 5.5) / (1.52 + working), 1e-6);
}
