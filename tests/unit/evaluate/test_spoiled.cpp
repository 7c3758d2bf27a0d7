// SPDX-License-Identifier: MIT
// A hazard that calls insulation wet or soiled takes the R of that fill, or asks which it means.
#include "fixtures.hpp"

using namespace fixtures;

namespace {

Survey two_floors(const std::string& kind, const std::string& where) {
  Section a = loose_section({6, 6, 6, 6, 6});
  a.name = "north";
  Section b = a;
  b.name = "south";
  Survey survey = survey_of({a, b});
  survey.hazards = {{kind, where, "", "", ""}};
  return survey;
}

bool raised(const Evaluation& e, std::string_view code) {
  return std::any_of(e.cautions.begin(), e.cautions.end(), [&](const Caution& c) { return tables().cautions[c.row].code == code; });
}

/// Everything that can be read off a section, as one list.
std::vector<double> figures(const SectionResult& s) {
  return {s.existing.working_r.us(),      s.existing.effective_r.us(),
          s.high.working_r.us(),          s.high.initial_level.value_or(Length{}).us(),
          s.high.bags_exact.value_or(-1), static_cast<double>(s.removals.size())};
}

}  // namespace

// Symptom: "it counts nothing and comes out", and R-20 of it was counted. Invariant: a hazard on a named section is the same as the
// condition of its only layer, in every figure; the other section keeps its own.
TEST_CASE("spoiled: a hazard on a named section takes the R of its fill") {
  for (const auto& row : {std::pair("wet-insulation", Condition::wet), std::pair("soiled-insulation", Condition::soiled)}) {
    for (const char* where : {"north", " NORTH "}) {
      const char* const kind = row.first;
      const Condition condition = row.second;
      CAPTURE(kind);
      Survey marked = two_floors(kind, where);
      marked.hazards.clear();
      const Evaluation clean = evaluate(marked, tables());
      marked.sections[0].layers[0].condition = condition;
      const Evaluation by_layer = evaluate(marked, tables()), by_hazard = evaluate(two_floors(kind, where), tables());
      CHECK(by_hazard.sections[0].existing.working_r.us() == 0.0);
      CHECK(figures(by_hazard.sections[0]) == figures(by_layer.sections[0]));
      CHECK(figures(by_hazard.sections[1]) == figures(clean.sections[1]));
      CHECK(by_hazard.sections[1].existing.working_r.us() > 0);
    }
  }
}

// Hand derivation: of two layers either may be meant: none counts, none is said to come out, and the survey is asked.
TEST_CASE("spoiled: of several layers none counts until the survey says which") {
  Survey survey = two_floors("wet-insulation", "north");
  survey.sections[0].layers = {batt_of(11, 3.5), layer_of("cellulose-loose")};
  const Evaluation e = evaluate(survey, tables());
  CHECK(e.sections[0].existing.working_r.us() == 0.0);
  CHECK(e.sections[0].removals.empty());
  CHECK(raised(e, "spoiled-layer-unknown"));
  CHECK(e.stopped());
  survey.sections[0].layers[1].condition = Condition::wet;  // told: the batt counts again
  const Evaluation told = evaluate(survey, tables());
  CHECK_FALSE(raised(told, "spoiled-layer-unknown"));
  CHECK(told.sections[0].existing.working_r.us() > 5);
}

// Hand derivation: without a place, or at a place that is no section, it cannot be told which of two floors is meant: asked, and said that
// the figures still count it. Where only one floor has insulation, it is that one.
TEST_CASE("spoiled: where no section is named the survey is asked, or there is but one") {
  for (const char* where : {"", "attic", "by the chimney"}) {
    const Evaluation e = evaluate(two_floors("soiled-insulation", where), tables());
    CHECK(raised(e, "spoiled-place-unknown"));
    CHECK(e.sections[0].existing.working_r.us() > 0);
  }
  Survey one = two_floors("soiled-insulation", "");
  one.sections.pop_back();
  const Evaluation e = evaluate(one, tables());
  CHECK(e.sections[0].existing.working_r.us() == 0.0);
  CHECK_FALSE(raised(e, "spoiled-place-unknown"));
}

// Hand derivation: a lid with R-10 of wet board is its films and ceiling, 0.61 + 0.45 + 0.46; a slope's wet batt is worth nothing.
TEST_CASE("spoiled: a lid and a slope lose theirs too") {
  Survey survey = two_floors("wet-insulation", "lid");
  survey.sections.push_back(hatch_section(10, 10));
  survey.sections.back().name = "lid";
  Section slope = flat_section();
  slope.name = "slope";
  slope.kind = SectionKind::slope;
  slope.layers = {batt_of(11, 3.5)};
  survey.sections.push_back(slope);
  survey.hazards.push_back({"wet-insulation", "slope", "", "", ""});
  const Evaluation e = evaluate(survey, tables());
  CHECK(e.sections[2].existing.working_r.us() == 0.0);
  near(e.sections[2].existing.effective_r.us(), 0.61 + 0.45 + 0.46, kNoise);
  CHECK(e.sections[3].existing.working_r.us() == 0.0);
}

// Hand derivation: cleared by person, day and paper the fill counts in full again.
TEST_CASE("spoiled: a hazard that is cleared takes nothing") {
  Survey survey = two_floors("wet-insulation", "north");
  survey.hazards[0] = {"wet-insulation", "north", "J. Doe", "2026-05-04", "note 3"};
  const Evaluation e = evaluate(survey, tables());
  CHECK(e.sections[0].existing.working_r.us() == e.sections[1].existing.working_r.us());
  survey.hazards[0].cleared_by = " ";
  CHECK(evaluate(survey, tables()).sections[0].existing.working_r.us() == 0.0);
}
