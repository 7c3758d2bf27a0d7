// SPDX-License-Identifier: MIT
// What a survey states of a layer is used or refused, never dropped; a cavity of which nothing is
// said is refused.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

std::string survey_text(const std::string& section, const std::string& more = "") {
  return R"({"format": "overjoist-survey", "version": 1, )" + more +
         R"("sections": [{"name": "a", "area_ft2": 200, )" + section + "}]}";
}
std::string floor_text(const std::string& layer, const std::string& more = "") {
  return survey_text(
      R"("kind": "flat", "readings": [7, 7], "joists": {"size": "2x6", "spacing_in": 16}, "layers": [{)" +
          layer + "}]",
      more);
}
SurveyRead read(const std::string& text) { return read_survey(text, tables()); }

Evaluation worked_out(const std::string& text) {
  const SurveyRead got = read(text);
  for (const Diagnostic& d : got.faults) FAIL_CHECK(d.pointer << ": " << d.message);
  REQUIRE(got.survey);
  return run(*got.survey);
}

/// The one fault of a text: its place, and that it says what to do.
std::string place_of_fault(const std::string& text) {
  const SurveyRead got = read(text);
  REQUIRE(got.faults.size() == 1);
  CHECK_FALSE(got.faults[0].hint.empty());
  return got.faults[0].pointer;
}

}  // namespace

// Symptom: a slope of which nothing is said was filled; cause: silence was read as hollow. Common
// practice: a bare floor is said, too.
TEST_CASE(
    "layers: a cavity of which nothing is said is refused, one that is said to be hollow is not") {
  for (const char* kind : {R"("kind": "slope")", R"("kind": "knee-wall")"}) {
    CAPTURE(kind);
    CHECK(place_of_fault(survey_text(kind)) == "/sections/0");
    CHECK(place_of_fault(survey_text(std::string(kind) + R"(, "continuous_r": 5)")) ==
          "/sections/0");
    CHECK(read(survey_text(std::string(kind) + R"(, "layers": [])")).survey);
    CHECK(read(survey_text(std::string(kind) + R"(, "add": {"material": "cellulose-dense"})"))
              .survey);
  }
}

// Symptom: the label of a loose fill or a board was dropped; cause: only batts were asked for it.
// Hand derivation: R-44 at 16 in. is 2.75 per inch, 7 in. of it 19.25; R-6 on a board of 1 in. is
// 6, R-13 at 2 in. 6.5 per inch.
TEST_CASE("layers: a label with its thickness holds for loose fill and boards") {
  near(
      worked_out(
          floor_text(R"("material": "glass-fiber-loose", "label_r": 44, "label_thickness_in": 16)"))
          .sections[0]
          .existing.working_r.us(),
      19.25, kNoise);
  const auto board = [](const char* words) {
    return worked_out(survey_text(
        R"("kind": "flat", "bare_share": 0, "readings": [1, 1, 1],
"layers": [{"material": "polyiso-board",
"thickness_in": 1, )" +
        std::string(words) + "}]"));
  };
  near(board(R"("label_r": 6)").sections[0].existing.working_r.us(), 6, kNoise);
  const Evaluation e = board(R"("label_r": 13, "label_thickness_in": 2)");
  near(e.sections[0].existing.working_r.us(), 6.5, kNoise);
  near(e.sections[0].existing.working_r_range->high->us(), 6.5,
       kNoise);  // a label has no range of its material
  CHECK(assumes(e, "label-of-layer"));
}

// Symptom: label_r, label_thickness_in, facing and lies of a loose fill were dropped without a
// word; cause: read, never asked.
TEST_CASE("layers: words that mean nothing for the material are refused at their place") {
  const std::string at = "/sections/0/layers/0/", loose = R"("material": "glass-fiber-loose", )";
  CHECK(place_of_fault(floor_text(loose + R"("label_r": 44)")) == at + "label_r");
  CHECK(place_of_fault(floor_text(loose + R"("label_r": 44, "thickness_in": 7)")) ==
        at + "label_r");
  CHECK(place_of_fault(floor_text(loose + R"("label_thickness_in": 16)")) ==
        at + "label_thickness_in");
  CHECK(place_of_fault(floor_text(loose + R"("label_r": 190, "label_thickness_in": 1)")) ==
        at + "label_r");
  CHECK(place_of_fault(floor_text(loose + R"("lies": "across")")) == at + "lies");
  CHECK(place_of_fault(floor_text(loose + R"("facing": "kraft")")) == at + "facing");
  CHECK(place_of_fault(floor_text(loose + R"("facing": "unknown")")) == at + "facing");
  CHECK(place_of_fault(floor_text(loose + R"("facing_side": "attic")")) == at + "facing_side");
  CHECK(place_of_fault(
            floor_text(R"("material": "xps-board", "thickness_in": 2, "label_thickness_in": 2)")) ==
        at + "label_thickness_in");
  CHECK(read(floor_text(loose + R"("facing": "none", "lies": "between")"))
            .survey);  // just so it is counted
  const std::string slope =
      R"("kind": "slope", "layers": [], "add": {"material": "cellulose-dense", )";
  CHECK(place_of_fault(survey_text(slope + R"("label_r": 13})")) == "/sections/0/add/label_r");
  CHECK(place_of_fault(survey_text(slope + R"("facing": "foil"})")) == "/sections/0/add/facing");
  CHECK(place_of_fault(survey_text(
            R"("kind": "slope", "layers": [], "add": {"material": "glass-fiber-batt", "label_r": 13,
    "label_thickness_in": 3.5, "lies": "across"})")) == "/sections/0/add/lies");
}

// Symptom: an own row with low and high took its low end; cause: the middle was only ever a typical
// figure. Hand derivation: 2.4 and 3.2 have the middle 2.8, 7 in. of it 19.6. The row for fill that
// nobody has named keeps its low end, 2.2.
TEST_CASE("layers: an own row with low and high takes the middle") {
  const std::string low_high = R"("r_per_inch_low": 2.4, "r_per_inch_high": 3.2})";
  const auto own = [&](const std::string& rows) {
    return worked_out(
        floor_text(R"("material": "own-wool")",
                   R"("materials": [{"id": "own-wool", "form": "loose", )" + rows + "],"));
  };
  const Evaluation e = own(low_high);
  near(e.sections[0].existing.working_r.us(), 19.6, kNoise);
  CHECK(assumes(e, "middle-of-range"));
  near(own(R"("r_per_inch": 2.5, )" + low_high).sections[0].existing.working_r.us(), 17.5, kNoise);
  near(own(R"("r_per_inch_low": 2.4})").sections[0].existing.working_r.us(), 16.8, kNoise);
  near(worked_out(floor_text(R"("material": "unknown-loose")")).sections[0].existing.working_r.us(),
       15.4, kNoise);
  Tables all = tables();
  REQUIRE(add_materials(
              all,
              R"({"table": "materials", "title": "own", "version": "1", "retrieved": "2026-01-01",
"units": "US", "rows":
    [{"id": "own-wool", "form": "loose", )" +
                  low_high + "]}",
              "own.json")
              .empty());
  near(all.material("own-wool")->central()->us(), 2.8, kNoise);
}
