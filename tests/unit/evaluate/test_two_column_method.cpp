// SPDX-License-Identifier: MIT
// The framing method of two coupled columns, through the whole chain.
#include <doctest/doctest.h>

#include <vector>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

constexpr double kFillK = 0.32, kWoodK = 0.8;

Tables columns_tables() {
  Tables all = tables();
  for (Material& m : all.materials)
    if (m.id == "cellulose-loose") {
      m.typical = m.low = m.high = r_per_inch(1 / kFillK);
      m.found_row = {};  // one fill, old and new
    }
  all.framing_method = FramingMethod::two_column;
  return all;
}

Tables parallel_tables() {
  Tables all = columns_tables();
  all.framing_method = FramingMethod::parallel;
  return all;
}

/// An even floor between joists 1.5 by 5.5 in. of k 0.8 at 16 in.
Survey bay_survey(double depth, double target, Basis basis = Basis::effective) {
  Section s = loose_section({depth});
  s.joists->wood = r_per_inch(1 / kWoodK);
  Survey survey = survey_of({s}, target, target);
  survey.target.basis = basis;
  return survey;
}

struct TwoD {
  double t, r;
};

}  // namespace

// Independent: tests/reference/SOURCES.md#joist-bay, column of two dimensions at films 0.61 and
// 0.46; the method promises 1 % of it (method eq. 5a). It stands in the result by any method.
TEST_CASE("two-column method: R as found is within 1 percent of two dimensions") {
  constexpr TwoD kRows[] = {{2.0, 7.196}, {3.5, 11.323}, {5.5, 16.707}, {15.5, 48.096}};
  for (const TwoD& row : kRows) {
    CAPTURE(row.t);
    const Survey survey = bay_survey(row.t, 38);
    const ExistingResult columns = evaluate(survey, columns_tables()).sections[0].existing,
                         usual = evaluate(survey, parallel_tables()).sections[0].existing;
    near(columns.effective_r.us(), row.r, 0.01 * row.r);
    near(columns.effective_r.us(), columns.effective_r_two_column.us(), kNoise);
    near(usual.effective_r_two_column.us(), columns.effective_r.us(), kNoise);
    near(columns.steps.back().after.us(), columns.effective_r.us(), kNoise);
  }
}

// Hand derivation: new fill of the same k on 3.5 in. is one fill of 3.5 + t, so R after the blow is
// R as found of a floor that deep; at the exact level it is the target, as the solver promises
// (1e-6, for the level's own rounding).
TEST_CASE("two-column method: the level for an effective target is solved with it") {
  const Tables t = columns_tables();
  const TopUp top = evaluate(bay_survey(3.5, 40), t).planned.high.sections[0];
  REQUIRE(top.level_exact);
  REQUIRE(top.new_depth);
  const auto found = [&](double depth) {
    return evaluate(bay_survey(depth, 40), t).sections[0].existing.effective_r.us();
  };
  near(top.effective_r.us(), found(3.5 + top.new_depth->mean.us()), 1e-9);
  near(top.effective_r_two_column.us(), top.effective_r.us(), kNoise);
  const double settles = top.new_depth->mean.us() / (top.initial_level->us() - 3.5);
  near(found(3.5 + (top.level_exact->us() - 3.5) * settles), 40, 1e-6);
}

// Hand derivation: by the parallel path the figure by two columns after the blow is that of the
// same depth as found, uneven spots side by side by their U.
TEST_CASE("two-column method: the figure after the work stands beside the parallel one") {
  const Tables t = parallel_tables();
  Survey survey = bay_survey(3, 38, Basis::working);
  survey.sections[0].readings = {reading_of(3), reading_of(6)};
  const TopUp top = evaluate(survey, t).planned.high.sections[0];
  REQUIRE(top.initial_level);
  double u = 0.0;
  for (const double depth : {3.0, 6.0}) {
    const double after = depth + 0.8 * (top.initial_level->us() - depth);
    u += 0.5 / evaluate(bay_survey(after, 38), t).sections[0].existing.effective_r_two_column.us();
  }
  near(top.effective_r_two_column.us(), 1 / u, 1e-9);
  CHECK(top.effective_r_two_column < top.effective_r);
}

// Hand derivation: batts across close a gap of 2 in. above 3.5 in. of fill: R 0.8 of air with wood
// beside it (method eq. 5a), so R rises by more than the label alone, and by less than label and
// gap; the parallel path gives the gap R 0.
TEST_CASE("two-column method: what lies across counts, with the gap below it") {
  Survey survey = bay_survey(3.5, 40, Basis::working);
  BattProduct p;
  p.name = "ten";
  p.label_r = r_value(30);
  p.thickness = inches(10);
  p.coverage = square_feet(50);
  survey.proposal = Proposal{};
  survey.proposal->batts = {p};
  const Evaluation e = evaluate(survey, columns_tables());
  const double before = e.sections[0].existing.effective_r.us();
  const double after = e.planned.high.sections[0].effective_r.us();
  CHECK(after > before + 30.0);
  CHECK(after < before + 30.0 + 0.8 + 5.5 / kWoodK * 0.2);
  const Evaluation usual = evaluate(survey, parallel_tables());
  near(usual.planned.high.sections[0].effective_r_two_column.us(), after, 1e-9);
}

// Symptom: wide timber took the parallel path, 3.4 % too good under 12 in.; cause: nothing looked
// at the difference. Invariant: where it is above 3 % the smaller R is taken everywhere, and said;
// where it is not the parallel path stays.
TEST_CASE("two-column method: where the parallel path is hopeful by 3 percent it is not taken") {
  Section wide = loose_section({12, 12});
  wide.joists = Joists{};
  wide.joists->width = inches(3.5);
  wide.joists->depth = inches(5.5);
  wide.joists->spacing = inches(12);
  const Evaluation e = run(survey_of({wide}));
  const ExistingResult& now = e.sections[0].existing;
  REQUIRE(now.effective_r_parallel.us() > 1.03 * now.effective_r_two_column.us());
  near(now.effective_r.us(), now.effective_r_two_column.us(), kNoise);
  CHECK(assumes(e, "two-column-taken"));
  near(e.attic.existing.effective_r.us(), now.effective_r.us(), kNoise);
  const Evaluation usual = run(survey_of({loose_section({5.5, 5.5})}));
  CHECK_FALSE(assumes(usual, "two-column-taken"));
  near(usual.sections[0].existing.effective_r.us(),
       usual.sections[0].existing.effective_r_parallel.us(), kNoise);
}

// Symptom: a survey without a film to the attic was answered by no method any more; cause: the
// figure by two columns, worked out beside every other, refused R 0. Invariant: it is answered, by
// every method, and the two columns lie between planes and parallel paths.
TEST_CASE("two-column method: films of R 0 are answered") {
  for (const bool above : {true, false}) {
    Section s = loose_section({3, 8});
    (above ? s.film_attic : s.film_inside) = Resistance{};
    const ExistingResult r = run(survey_of({s})).sections[0].existing;
    CHECK(r.effective_r_two_column >= r.effective_r_planes);
    CHECK(r.effective_r_two_column.us() > 0.99 * r.effective_r_parallel.us());
  }
}

// Invariant: at an eave the wedge is taken by the same method: its R lies between those by planes
// and by parallel paths, as that of every spot does.
TEST_CASE("two-column method: an eave lies between planes and parallel") {
  const auto after = [](FramingMethod method) {
    Tables t = columns_tables();
    t.framing_method = method;
    Survey survey = bay_survey(4, 38, Basis::working);
    survey.sections[0].eave = EaveSurvey{inches(5), 5.0, inches(600), {}, {}};
    const TopUp top = evaluate(survey, t).planned.high.sections[0];
    REQUIRE(top.eave);
    return top.effective_r.us();
  };
  const double columns = after(FramingMethod::two_column);
  CHECK(columns > after(FramingMethod::planes));
  CHECK(columns < after(FramingMethod::parallel));
}
