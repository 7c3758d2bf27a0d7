// SPDX-License-Identifier: MIT
// Rows of a comparison.
#include <doctest/doctest.h>

#include <string>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

Section named(Section s, const std::string& name, double area_ft2) {
  s.name = name;
  s.area = square_feet(area_ft2);
  return s;
}

}  // namespace

// Source: method eq. 10e: a row is a short view of an evaluation of its own, that of the largest
// floor over heated rooms.
TEST_CASE("compare: a comparison shows the largest heated floor, its depth and its weight") {
  Section garage = named(loose_section({1, 1}), "garage", 3000);
  garage.below = Below::unheated;
  Survey s = survey_of({named(loose_section({3, 3}), "small", 200),
                        named(loose_section({6, 6}), "large", 900), garage, hatch_section(2000, 3)},
                       38, 60);
  for (Section& floor : s.sections)
    if (floor.joists) floor.joists->spacing = inches(24);
  s.proposal->name = "our own";
  Proposal glass;
  glass.material = "glass-fiber-loose";
  s.compare = {glass};
  const Evaluation e = run(s);
  REQUIRE(e.compare.size() == 2);
  CHECK(e.compare[0].name == "our own");
  CHECK(e.compare[1].name == tables().material("glass-fiber-loose")->name);
  const TopUp& t = e.planned.high.sections[1];
  const CompareEnd& row = e.compare[0].ends.high;
  CHECK(row.depth == t.new_depth->mean);
  CHECK(row.initial_level == t.initial_level);
  CHECK(row.weight == t.weight_greatest);
  CHECK(row.weight_limit == t.weight_limit);
  CHECK(row.over_weight == true);  // 6 in. of 2 lb/ft3 and R-39 more at 24 in.: above 1.3 lb/ft2
  CHECK(row.working_r == t.working_r);
  CHECK(row.effective_r == e.planned.high.attic.effective_r);
  CHECK(e.compare[0].cautions.size() == e.findings.cautions.size());
}

// Invariant: one floor without room makes the row out of reach, whichever floor it is; a slope does
// not.
TEST_CASE("compare: a comparison is out of reach where any heated floor is") {
  Survey s = survey_of(
      {named(loose_section({3, 3}), "large", 900), named(loose_section({3, 3}), "low roof", 200)},
      49, 49);
  s.sections[1].headroom = inches(9);
  s.compare = {*s.proposal};
  const Evaluation e = run(s);
  CHECK(e.planned.high.sections[0].status == TopUpStatus::needed);
  CHECK(e.compare[1].ends.high.status == TopUpStatus::unreachable);
  CHECK(e.compare[1].ends.high.limited_by == LimitedBy::headroom);
  s.sections[1].below = Below::unheated;
  CHECK(run(s).compare[1].ends.high.status == TopUpStatus::needed);
}

// Hand derivation: two floors of the same area: a comparison shows the first.
TEST_CASE("compare: of floors alike in size a comparison shows the first") {
  Section first = loose_section({3, 3}), second = loose_section({8, 8});
  first.name = "first";
  second.name = "second";
  Survey s = survey_of({first, second});
  s.compare = {*s.proposal};
  const Evaluation e = run(s);
  CHECK(e.compare.at(0).ends.high.depth == e.planned.high.sections[0].new_depth->mean);
  CHECK(e.compare.at(1).ends.high.depth == e.planned.high.sections[0].new_depth->mean);
}
