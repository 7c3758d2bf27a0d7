// SPDX-License-Identifier: MIT
// A hazard that calls insulation wet or soiled takes the R of that fill, or asks which it means.
#include <sstream>

#include "fixtures.hpp"
#include "overjoist/report.hpp"

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
  return std::any_of(e.findings.cautions.begin(), e.findings.cautions.end(),
                     [&](const Caution& c) { return tables().cautions[c.row].code == code; });
}

std::string one_line(const std::string& text) {
  std::istringstream in(text);
  std::string out, word;
  while (in >> word) out += (out.empty() ? "" : " ") + word;
  return out;
}

/// Report and work order, each in one line.
std::string words_of(const Survey& survey) {
  const Evaluation e = evaluate(survey, tables());
  std::string text, order;
  write_text(text, e, tables(), {});
  write_order_text(order, e, tables(), OrderStyle{});
  return one_line(text) + one_line(order);
}

bool says(const std::string& all, std::string_view words) {
  return all.find(words) != std::string::npos;
}

/// Everything that can be read off a section, as one list.
std::vector<double> figures(const WholeSection& s) {
  return {s.existing.working_r.us(),      s.existing.effective_r.us(),
          s.high.working_r.us(),          s.high.initial_level.value_or(Length{}).us(),
          s.high.bags_exact.value_or(-1), static_cast<double>(s.removals.size())};
}

}  // namespace

// Symptom: "it counts nothing and comes out", and R-20 of it was counted. Invariant: a hazard on a
// named section is the same as the condition of its only layer, in every figure; the other section
// keeps its own.
TEST_CASE("spoiled: a hazard on a named section takes the R of its fill") {
  for (const auto& row : {std::pair("wet-insulation", Condition::wet),
                          std::pair("soiled-insulation", Condition::soiled)}) {
    for (const char* where : {"north", " NORTH "}) {
      const char* const kind = row.first;
      const Condition condition = row.second;
      CAPTURE(kind);
      Survey marked = two_floors(kind, where);
      marked.hazards.clear();
      const Evaluation clean = evaluate(marked, tables());
      marked.sections[0].layers[0].condition = condition;
      const Evaluation by_layer = evaluate(marked, tables()),
                       by_hazard = evaluate(two_floors(kind, where), tables());
      CHECK(by_hazard.sections[0].existing.working_r.us() == 0.0);
      CHECK(figures(section_of(by_hazard)) == figures(section_of(by_layer)));
      CHECK(figures(section_of(by_hazard, 1)) == figures(section_of(clean, 1)));
      CHECK(by_hazard.sections[1].existing.working_r.us() > 0);
    }
  }
}

// Hand derivation: of two layers either may be meant: none counts, none is said to come out, and
// the survey is asked.
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

// Hand derivation: without a place, or at a place that is no section, it cannot be told which of
// two floors is meant: asked, and said that the figures still count it. Where only one floor has
// insulation, it is that one.
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

// Hand derivation: a lid with R-10 of wet board is its films and ceiling, 0.61 + 0.45 + 0.46; a
// slope's wet batt is worth nothing.
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

// Symptom: of two layers either was meant, the text asked which, and the work order blew a level
// over both. Cause: only R was held back. Hand derivation: nothing is put over fill that may have
// to come out; the other section keeps its level and its bags.
TEST_CASE("spoiled: nothing is planned where a hazard does not say which layer") {
  Survey survey = two_floors("wet-insulation", "north");
  survey.sections[0].layers = {batt_of(11, 3.5), layer_of("cellulose-loose")};
  const Evaluation e = evaluate(survey, tables());
  for (const TopUp* t : {&e.planned.low.sections[0], &e.planned.high.sections[0]}) {
    CHECK_FALSE(t->initial_level);
    CHECK_FALSE(t->bags_exact);
    CHECK_FALSE(t->new_depth);
  }
  REQUIRE(e.planned.high.sections[1].initial_level);
  near(e.planned.high.totals.blown_area.us(), 1000, kNoise);
  const std::string all = words_of(survey);
  CHECK(says(all,
             "north, 1000 ft2: nothing is planned here before the survey says which layer is wet "
             "or soiled."));
  CHECK(says(all, "as it is; nothing is planned here before the survey says which layer"));
  survey.sections[0].layers[1].condition = Condition::wet;
  CHECK(evaluate(survey, tables()).planned.high.sections[0].initial_level);
  Section slope = flat_section();
  slope.name = "slope";
  slope.kind = SectionKind::slope;
  slope.joists->size = "2x12";
  slope.layers = {batt_of(11, 3.5), batt_of(11, 3.5)};
  survey.sections.push_back(slope);
  REQUIRE(evaluate(survey, tables()).sections[2].cavity);
  survey.hazards.push_back({"soiled-insulation", "slope", "", "", ""});
  CHECK_FALSE(evaluate(survey, tables()).sections[2].cavity);
  CHECK(
      says(words_of(survey), "slope: nothing is planned here before the survey says which layer"));
}

// Symptom: soiled fill that a paper clears was told "counts nothing and comes out", with its R
// counted. Cause: a cleared caution kept the words of an open one. Invariant: what is cleared is
// named and says who cleared it; no order of an open stop stands beside it.
TEST_CASE("spoiled: what is cleared is not told to count nothing and come out") {
  for (const char* kind : {"soiled-insulation", "wet-insulation"}) {
    Survey survey = two_floors(kind, "north");
    survey.hazards[0] = {kind, "north", "J. Doe", "2026-05-04", "note 3"};
    const Evaluation e = evaluate(survey, tables());
    CHECK(e.sections[0].existing.working_r.us() > 0);
    std::string json, page;
    write_json(json, e, tables(), {});
    write_html(page, e, tables(), Units::us);
    for (const std::string& face : {words_of(survey), one_line(page), json}) {
      CHECK_FALSE(says(face, "counts nothing"));
      CHECK_FALSE(says(face, "comes out"));
    }
    CHECK(says(words_of(survey),
               "wet or soiled insulation. Cleared by J. Doe on 2026-05-04 (note 3)."));
  }
  Survey wires = two_floors("knob-and-tube", "north");
  CHECK(says(words_of(wires), "put no insulation over"));
  wires.hazards[0] = {"knob-and-tube", "north", "J. Doe", "2026-05-04", "note 3"};
  CHECK_FALSE(says(words_of(wires), "put no insulation over"));
  Survey light = two_floors("non-ic-light",
                            "north");  // how a light is kept clear holds after it was looked at
  light.hazards[0] = {"non-ic-light", "north", "J. Doe", "2026-05-04", "note 3"};
  CHECK(says(words_of(light), "stays 3 in."));
}

// Symptom: a wet lid of R-20 "was found with R-0". Cause: one figure for what lies there and for
// what it counts. Hand derivation: R-20 lies there, wet: it counts as R-0, and both are said.
TEST_CASE("spoiled: a wet lid is found with its R, which counts nothing") {
  Survey survey = two_floors("wet-insulation", "lid");
  survey.sections.push_back(hatch_section(10, 10));
  Section& lid = survey.sections.back();
  lid.name = "lid";
  lid.total_r.reset();
  lid.insulation_r = r_value(20);
  const Evaluation e = evaluate(survey, tables());
  REQUIRE(e.sections[2].existing.spoiled_r);
  near(e.sections[2].existing.spoiled_r->us(), 20, kNoise);
  const std::string all = words_of(survey);
  CHECK_FALSE(says(all, "found with R-0"));
  CHECK_FALSE(says(all, "found R-0"));
  CHECK(says(all, "lid: found R-20.0, wet or soiled, which counts nothing, planned"));
  CHECK(says(all, "R-20.0, wet or soiled, which counts nothing; R-0 working"));
  CHECK(says(all, "The hatch counts as R-0"));
}

// Symptom: "Sound layers above it are lifted" of a single layer, and of a wall. Cause: the words
// stood in the text of every removal. Hand derivation: a layer that stays and lies on it, on a
// floor: then alone.
TEST_CASE("spoiled: layers above what comes out are spoken of where there are some") {
  Survey survey = survey_of({loose_section({6, 6, 6, 6, 6})});
  Section& s = survey.sections[0];
  s.layers[0].condition = Condition::soiled;
  CHECK(says(words_of(survey), "comes out before new insulation goes in"));
  CHECK_FALSE(says(words_of(survey), "ayers above"));
  s.layers = {layer_of("cellulose-loose"), batt_of(19, 6.25)};
  s.layers[0].thickness = inches(4);
  s.layers[1].lies = Lies::across;
  s.readings = {reading_of(10.25), reading_of(10.25)};
  s.layers[1].condition = Condition::soiled;  // on top: nothing lies on it
  CHECK_FALSE(says(words_of(survey), "ayers lie above"));
  s.layers[0].condition = Condition::soiled;  // both go
  CHECK_FALSE(says(words_of(survey), "ayers lie above"));
  s.layers[1].condition = Condition::sound;
  CHECK(raised(evaluate(survey, tables()), "removal-below"));
  CHECK(says(words_of(survey), "Sound layers lie above the old"));
  Section wall = flat_section();
  wall.name = "wall";
  wall.kind = SectionKind::knee_wall;
  wall.layers = {batt_of(11, 3.5), batt_of(11, 2)};
  wall.layers[0].condition = Condition::soiled;
  const Evaluation e = evaluate(survey_of({wall}), tables());
  CHECK(raised(e, "removal"));
  CHECK_FALSE(raised(e, "removal-below"));
  CHECK_FALSE(
      raised(e, "existing-weight-unknown"));  // a wall's batt rests on no ceiling: nothing to weigh
  wall.kind = SectionKind::slope;
  wall.layers = {batt_of(11, 3.5)};
  CHECK(raised(evaluate(survey_of({wall}), tables()), "existing-weight-unknown"));
}
