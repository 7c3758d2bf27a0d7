// SPDX-License-Identifier: MIT
// What clears a hazard and what does not, and what takes a caution off a material: nothing.
#include "inspect_fixture.hpp"
#include "overjoist/clearing.hpp"
#include "overjoist/report.hpp"
#include "overjoist/report_inspect.hpp"
#include "overjoist/survey_json.hpp"

using namespace fixtures;

namespace {

Survey with_hazard(const Hazard& hazard, const std::string& surveyed = "") {
  Survey survey = survey_of({loose_section({4, 4, 4, 4, 4})});
  survey.hazards = {hazard};
  survey.surveyed_date = surveyed;
  return survey;
}

std::string fault_of(const Hazard& hazard, const std::string& surveyed = "",
                     const std::string& job = "") {
  Survey survey = with_hazard(hazard, surveyed);
  survey.job_date = job;
  return clearing_fault(hazard, survey, tables());
}

std::string text_of(const Evaluation& e) {
  std::string text, flat;
  write_text(text, e, tables(), {Units::us, false});
  for (const char c : text)
    if (c != '\n' || flat.empty() || flat.back() != ' ') flat += c == '\n' ? ' ' : c;
  while (flat.find("  ") != std::string::npos) flat.erase(flat.find("  "), 1);
  return flat;
}

bool has_code(const std::vector<Caution>& cautions, std::string_view code) {
  return std::any_of(cautions.begin(), cautions.end(),
                     [&](const Caution& c) { return tables().cautions[c.row].code == code; });
}

constexpr const char* kDay = "2026-05-04";

}  // namespace

// Symptom: a stop was cleared by two blanks. Hand derivation: whatever the script of the blank,
// nobody and no paper is named.
TEST_CASE("clearing: blanks and bare punctuation name nobody and no paper") {
  for (const char* blank :
       {" ", "\t", "\xC2\xA0", "\xE2\x80\x83", "\xE2\x80\x8B\xE2\x81\xA0", "\xE3\x80\x80",
        "\xEF\xBB\xBF", "\xE2\xA0\x80", "\xE3\x85\xA4", "\xC2\xAD", "\xE2\x80\xAE",
        "\xF3\xA0\x80\xA0", " - ", "...", "?", "\xE2\x80\x94"}) {
    CAPTURE(blank);
    CHECK_FALSE(says_something(blank));
    CHECK(fault_of({"knob-and-tube", "", blank, kDay, "certificate 12"}) ==
          "nobody is named who cleared it");
    CHECK(fault_of({"knob-and-tube", "", "J. Doe", kDay, blank}) ==
          "no paper is named that clears it");
    const Evaluation e = evaluate(with_hazard({"knob-and-tube", "", blank, kDay, blank}), tables());
    CHECK(e.stopped());
    CHECK(text_of(e).find("Said to be cleared, but nobody is named who cleared it.") !=
          std::string::npos);
  }
  for (const char* word :
       {"x", "7", " J. Doe ", "\xC3\x85sa", "\xE6\x9D\x8E", "\xD0\x98\xD0\xB2\xD0\xB0\xD0\xBD",
        "A\xCC\x8Asa", "No. 12", "J. No", "certificate", "Nona", "Nathan", "note 3, unknown author",
        "report on asbestos: none found, lab 4"}) {
    CAPTURE(word);
    CHECK(says_something(word));
    CHECK(fault_of({"knob-and-tube", "", word, kDay, word}).empty());
  }
}

// Symptom: the paper "none" and a name of one lone accent cleared a stop. Cause: any letter and any
// mark was taken for a name. Common practice: these words are written where there is no paper, in
// any case, with any signs between, in full-width letters too.
TEST_CASE("clearing: words for nothing and lone marks name nobody and no paper") {
  for (const char* word : {"none",
                           "None.",
                           "NONE",
                           "(none)",
                           "n/a",
                           "N/A",
                           "n.a.",
                           "N. A.",
                           "na",
                           "no",
                           "No.",
                           "unknown",
                           "Unknown!",
                           "not known",
                           "tbd",
                           "T.B.D.",
                           "TBA",
                           "tbc",
                           "pending",
                           "Pending...",
                           "to be determined",
                           "to follow",
                           "not applicable",
                           "nothing",
                           "nobody",
                           "no one",
                           "no-one",
                           "no paper",
                           "No certificate yet",
                           "certificate pending",
                           "not yet available",
                           "null",
                           "nil",
                           "lost",
                           "none/unknown",
                           "n\xC2\xA0/\xC2\xA0"
                           "a",
                           "no\xE2\x80\x8Bne",
                           "\xEF\xBC\xAE\xEF\xBC\xAF\xEF\xBC\xAE\xEF\xBC\xA5",
                           "\xEF\xBD\x8E\xEF\xBC\x8F\xEF\xBD\x81",
                           "\xCC\x81",
                           " \xCC\x81\xCC\x88 ",
                           "\xE2\x83\x9D",
                           "\xD9\x8B",
                           "\xE0\xA5\x8D",
                           "\xEF\xBC\x9F",
                           "\xE2\x80\x93",
                           "\xE2\x86\x92",
                           "\xE2\x9C\x93",
                           "\xF0\x9F\x91\x8D",
                           "\xE3\x80\x8C\xE3\x80\x8D"}) {
    CAPTURE(word);
    CHECK_FALSE(says_something(word));
    CHECK(fault_of({"vermiculite", "", word, kDay, "release 12"}) ==
          "nobody is named who cleared it");
    CHECK(fault_of({"vermiculite", "", "J. Doe", kDay, word}) ==
          "no paper is named that clears it");
    CHECK(evaluate(with_hazard({"vermiculite", "", "J. Doe", kDay, word}), tables()).stopped());
  }
}

// Hand derivation: the bounds of data/bypasses.json, a day before each and on it; a paper after the
// survey is the normal case.
TEST_CASE("clearing: a day that cannot be clears nothing, one after the survey does") {
  const auto fault = [](const char* day, const char* surveyed = "", const char* job = "") {
    return fault_of({"knob-and-tube", "", "J. Doe", day, "certificate 12"}, surveyed, job);
  };
  for (const char* day : {"2026-02-30", "2025-02-29", "2026-13-01", "2026-00-10", "26-05-04",
                          "tomorrow", " 2026-05-4", "-026-05-04"}) {
    CAPTURE(day);
    CHECK(fault(day) == "its date is no day of the calendar");
  }
  CHECK(fault("1949-12-31") == "its date is too long ago");
  CHECK(fault("1950-01-01").empty());
  CHECK(fault("2999-12-31") == "its date lies too far ahead");
  CHECK(fault("2024-02-29").empty());
  CHECK(fault("2031-05-04", kDay).empty());
  CHECK(fault("2031-05-05", kDay) == "its date is years after the survey");
  CHECK(fault("2026-09-01", kDay).empty());
  CHECK(fault("2026-04-01", kDay).empty());
  CHECK(fault("2026-09-01", kDay, "2026-09-01").empty());
  CHECK(fault("2026-09-02", kDay, "2026-09-01") == "its date is after the day of the job");
}

// Symptom: wet insulation was cleared on paper while its layer was still called wet. Hand
// derivation: one of both is not true; a repaired leak needs a dry reading too. What is soiled says
// nothing of a leak, and knob-and-tube nothing of either.
TEST_CASE("clearing: a layer that the same survey calls wet clears nothing of that kind") {
  const auto open = [](const char* kind, const char* where, Condition condition) {
    Survey survey = with_hazard({kind, where, "J. Doe", kDay, "note 3"});
    survey.sections.push_back(loose_section({3, 3, 3, 3, 3}));
    survey.sections.back().name = "other";
    survey.sections[0].layers[0].condition = condition;
    return !is_cleared(survey.hazards[0], survey, tables());
  };
  const std::string name = survey_of({loose_section({4})}).sections[0].name;
  CHECK(open("wet-insulation", name.c_str(), Condition::wet));
  CHECK(open("wet-insulation", "", Condition::wet));
  CHECK(open("soiled-insulation", name.c_str(), Condition::soiled));
  CHECK(open("roof-leak", name.c_str(), Condition::wet));
  CHECK_FALSE(open("wet-insulation", "other", Condition::wet));
  CHECK_FALSE(open("wet-insulation", name.c_str(), Condition::sound));
  CHECK_FALSE(open("roof-leak", name.c_str(), Condition::soiled));
  CHECK_FALSE(open("knob-and-tube", name.c_str(), Condition::wet));
}

// Invariant: the reason stands in every machine face too, and the same thing is said once for each
// place.
TEST_CASE("clearing: what is said to be cleared and is not is told in JSON, once for its place") {
  Survey survey = survey_of({loose_section({4, 4, 4, 4, 4}, "vermiculite")});
  survey.hazards = {{"vermiculite", survey.sections[0].name, " ", kDay, "report 7"},
                    {"vermiculite", survey.sections[0].name, "", "", ""}};
  const Evaluation e = evaluate(survey, tables());
  const auto count = std::count_if(
      e.findings.cautions.begin(), e.findings.cautions.end(),
      [](const Caution& c) { return tables().cautions[c.row].code == "vermiculite"; });
  CHECK(count == 1);
  std::string json;
  write_json(json, e, tables(), {Units::us, false});
  CHECK(json.find(R"("said_to_be_cleared_but":"nobody is named who cleared it")") !=
        std::string::npos);
}

// ---- After the job

// Symptom: "PASS" over live knob-and-tube and vermiculite. Hand derivation: 35 bags and 16.25 in.
// are the plan's own (inspect_fixture.hpp).
TEST_CASE("inspect: over a stop that stands nothing passes, in any face") {
  Survey survey = hand_job();
  survey.hazards = {{"knob-and-tube", "", "", "", ""}};
  const Inspection in = inspected(survey, record_of({built("floor", 35, {16.25})}));
  CHECK(in.verdict == BuiltVerdict::stop_open);
  CHECK(in.sections[0].verdict == BuiltVerdict::stop_open);
  CHECK(in.sections[0].weight.met == Met::yes);
  CHECK(in.sections[0].depth.met == Met::yes);
  CHECK(in.totals.stops_open == 1);
  CHECK(unproven(in.verdict));
  CHECK_FALSE(fails(in.verdict));
  std::string text, receipt, page, json, csv;
  write_inspection_text(text, in, tables(), {Units::us, false});
  write_receipt_text(receipt, in, tables(), {Units::us, false});
  write_receipt_html(page, in, tables(), Units::us);
  write_inspection_json(json, in, tables(), {Units::us, false});
  write_inspection_csv(csv, in, tables(), {}, false);
  for (const std::string& face : {text, receipt, page}) {
    CHECK(face.find("STOP OPEN") != std::string::npos);
    CHECK(face.find("PASS") == std::string::npos);
    CHECK(face.find(": pass") == std::string::npos);
  }
  CHECK(json.find(R"("verdict":"stop-open")") != std::string::npos);
  CHECK(json.find(R"("verdict":"pass")") == std::string::npos);
  CHECK(json.find(R"("stops_open":1)") != std::string::npos);
  CHECK(csv.find(",stop-open,") != std::string::npos);
}

// Symptom: a fluffed or short job over an open stop said FLUFFED, and nothing of the stop. Cause:
// the worst of both was taken. Hand derivation: the stop comes first, and what is short stays
// short: the section, the missing bags and what a script asks for say so.
TEST_CASE("inspect: an open stop is hidden by no shortfall, and hides none") {
  Survey survey = hand_job();
  survey.hazards = {{"bats", "", "", "", ""}};
  struct Case {
    double bags, depth;
    BuiltVerdict section;
  };
  for (const Case& c :
       {Case{30, 16.5, BuiltVerdict::fluffed}, Case{35, 12, BuiltVerdict::over_dense},
        Case{20, 8, BuiltVerdict::short_of}}) {
    CAPTURE(c.bags);
    const Inspection in = inspected(survey, record_of({built("floor", c.bags, {c.depth})}));
    CHECK(in.verdict == BuiltVerdict::stop_open);
    CHECK(in.sections[0].verdict == c.section);
    CHECK(in.falls_short());
    std::string text, json;
    write_inspection_text(text, in, tables(), {Units::us, false});
    write_inspection_json(json, in, tables(), {Units::us, false});
    CHECK(text.find("STOP OPEN") != std::string::npos);
    CHECK(text.find("Besides, by weight and depth") != std::string::npos);
    CHECK(json.find(R"("verdict":"stop-open")") != std::string::npos);
  }
  CHECK_FALSE(inspected(survey, record_of({built("floor", 35, {16.25})})).falls_short());
  CHECK(inspected(survey, record_of({built("floor", {}, {})})).verdict == BuiltVerdict::stop_open);
  CHECK(inspected(survey, record_of({})).verdict == BuiltVerdict::stop_open);
}

// Symptom: the record's blanks, or a day after the job, cleared a stop. Hand derivation: the same
// rules as in a survey.
TEST_CASE("inspect: a record clears by the same rules as a survey") {
  Survey survey = hand_job();
  survey.hazards = {{"bats", "north", "", "", ""}};
  Record record = record_of({built("floor", 35, {16.25})});
  record.date = "2026-06-01";
  record.cleared = {{"bats", "north", "A. Rigg", "wildlife warden", "2026-06-01", "note 3"}};
  CHECK(inspected(survey, record).verdict == BuiltVerdict::pass);
  record.cleared[0].date = "2026-06-02";
  const Inspection later = inspected(survey, record);
  CHECK(later.verdict == BuiltVerdict::stop_open);
  CHECK(later.hazards[0].but == "its date is after the day of the job");
  std::string text;
  write_inspection_text(text, later, tables(), {Units::us, false});
  CHECK(text.find("said to be cleared, but its date is after the day of the job") !=
        std::string::npos);
  record.cleared[0].date = "2026-06-01";
  record.cleared[0].by = "\xC2\xA0";
  CHECK(inspected(survey, record).hazards[0].but == "nobody is named who cleared it");
  // The survey's own paper is held against the day of the job too.
  record.cleared.clear();
  survey.hazards[0] = {"bats", "north", "A. Rigg", "2026-07-01", "note 3"};
  CHECK(inspected(survey, record).verdict == BuiltVerdict::stop_open);
}

// Hand derivation: a stop that a layer or a fan raises can be cleared by the record, as one that
// the survey lists: else no such job passes.
TEST_CASE("inspect: a record clears a stop that the survey did not list as a hazard") {
  Survey survey = hand_job();
  survey.sections[0].layers = {layer_of("cellulose-loose")};
  survey.sections[0].layers[0].condition = Condition::wet;
  survey.sections[0].readings = {reading_of(4), reading_of(4)};
  Record record = record_of({built("floor", 35, {16.25})});
  CHECK(inspected(survey, record).verdict == BuiltVerdict::stop_open);
  REQUIRE(inspected(survey, record).hazards.size() == 1);
  CHECK(inspected(survey, record).hazards[0].kind == "wet-insulation");
  record.cleared = {{"wet-insulation", "floor", "A. Rigg", "installer", "2026-05-06",
                     "photo of the dry ceiling"}};
  CHECK(inspected(survey, record).totals.stops_open == 0);
  CHECK(inspected(survey, record).verdict == BuiltVerdict::pass);
}

// ---- Materials of the user's own

// Symptom: a row of the survey called vermiculite took the stop off. Invariant: no row of a user's
// takes a caution off a stock id, and what is called after such fill, in any case and inside words,
// raises its stop.
TEST_CASE("materials: a row of the user's own takes no caution off") {
  for (const auto& row : {std::pair<const char*, const char*>{"vermiculite", "gold pebbles"},
                          {"old-vermiculite-mix", "old mix"},
                          {"x1", "Expanded VERMICULITE, loose"},
                          {"x2", "AsbestosFree wool"},
                          {"fibre-asbestine", "wool"}}) {
    const char *const id = row.first, *const name = row.second;
    CAPTURE(id);
    Survey survey = survey_of({loose_section({4, 4, 4, 4, 4}, id)});
    Material own;
    own.id = id;
    own.name = name;
    own.typical = r_per_inch(2.25);
    survey.materials = {own};
    const Evaluation e = evaluate(survey, tables());
    CHECK(has_code(e.findings.cautions, "vermiculite"));
    CHECK(e.hands_off);
    survey.materials[0].caution = "unknown-fill";
    CHECK(evaluate(survey, tables()).stopped());
  }
}

// Invariant: the same by a table of the user's own, several rows at once; the list of materials
// shows it.
TEST_CASE("materials: a table of the user's own takes no caution off") {
  Tables own = builtin_tables();
  const Diagnostics faults = add_materials(own, R"({"table": "materials", "version": "1", "rows": [
    {"id": "aaa", "form": "loose", "r_per_inch": 2},
    {"id": "vermiculite", "form": "loose", "r_per_inch": 2.3, "settling_low_percent": 0,
"settling_high_percent": 0},
    {"id": "zz", "name": "White Asbestos", "form": "loose", "r_per_inch": 2}]})",
                                           "mine.json");
  REQUIRE(faults.empty());
  CHECK(own.material("vermiculite")->caution == "vermiculite");
  CHECK(own.material("zz")->caution == "vermiculite");
  CHECK(own.material("aaa")->caution.empty());
  CHECK(evaluate(survey_of({loose_section({4, 4, 4, 4, 4}, "vermiculite")}), own).stopped());
}

// Symptom: a ceiling called asbestos board raised nothing. Cause: names were read of insulation
// alone. Hand derivation: a board of that name is no safer than a fill of it, over the ceiling or
// under it, from the survey or from a table; a paper clears it as it clears a fill.
TEST_CASE(
    "materials: a ceiling or a deck that is called after asbestos raises the stop of a fill of "
    "that name") {
  const auto job = [](const std::string& rows) {
    return R"({"format": "overjoist-survey", "version": 1, )" + rows +
           R"("sections": [{"name": "a", "kind": "flat",
      "area_ft2": 500, "ceiling": {"material": "own-board"}, "joists": {"size": "2x8", "spacing_in": 16},
      "layers": [{"material": "cellulose-loose"}], "readings": [4, 4, 4, 4, 4]}]})";
  };
  const std::string row =
      R"({"id": "own-board", "name": "Asbestos-cement board", "form": "ceiling",
"thickness_in": 0.25, "r": 0.1})";
  Tables with_table = builtin_tables();
  REQUIRE(add_materials(with_table,
                        R"({"table": "materials", "version": "1", "rows": [)" + row + "]}",
                        "mine.json")
              .empty());
  for (const bool by_table : {false, true}) {
    const Tables& t = by_table ? with_table : tables();
    SurveyRead read = read_survey(job(by_table ? "" : R"("materials": [)" + row + "], "), t);
    REQUIRE(read.faults.empty());
    const Evaluation e = evaluate(*read.survey, t);
    CHECK(has_code(e.findings.cautions, "other-asbestos"));
    CHECK(e.hands_off);
    REQUIRE(implied_hazards(*read.survey, t).size() == 1);
    CHECK(implied_hazards(*read.survey, t)[0].kind == "asbestos");
    read.survey->hazards = {{"asbestos", "a", "J. Doe", kDay, "release 12"}};
    CHECK_FALSE(evaluate(*read.survey, t).stopped());
    Survey deck = *read.survey;
    deck.hazards.clear();
    std::swap(deck.sections[0].ceiling, deck.sections[0].deck);
    deck.sections[0].kind = SectionKind::decked;
    CHECK(evaluate(deck, t).hands_off);
  }
}

// Symptom: "failed test sheet", "lab: positive" and "owner says it is dead" made a house ready.
// Common practice: a paper clears what it says is clear; a stop is cleared by who is trained for
// it.
TEST_CASE("clearing: a paper that says the opposite clears nothing, nor does who lives there") {
  const auto cleared = [](const char* by, const char* paper) {
    Survey s = survey_of({flat_section()});
    s.hazards = {{"knob-and-tube", "attic", by, kDay, paper, false}};
    return is_cleared(s.hazards[0], s, tables());
  };
  for (const char* paper :
       {"failed test sheet", "lab 4: positive, 3 % chrysotile", "not tested", "verbal",
        "estimate for repair", "quote 12", "inspection booked", "Not yet repaired", "UNSAFE"}) {
    CAPTURE(std::string(paper));
    CHECK_FALSE(cleared("A. Doe", paper));
  }
  for (const char* paper :
       {"certificate 12", "asbestos not detected, sheet 4", "no failed circuits",
        "report 7: repaired and tested", "0 positive of 9 samples"}) {
    CAPTURE(std::string(paper));
    CHECK(cleared("A. Doe", paper));
  }
  for (const char* by : {"owner", "the home owner me", "Me", "tenant of the house"})
    CHECK_FALSE(cleared(by, "certificate 12"));
  CHECK(cleared("Owner Electric, J. Doe", "certificate 12"));
}

// Hand derivation: what nobody may touch is not blown in or packed either, whatever a user's row
// says of its use.
TEST_CASE("materials: fill taken as asbestos is never put in") {
  const char* survey =
      R"({"format": "overjoist-survey", "version": 1, "materials": [{"id": "vermiculite", "form": "loose",
    "r_per_inch": 2.25, "settling_low_percent": 0, "settling_high_percent": 0}],
    "sections": [{"name": "a", "kind": "flat", "area_ft2": 500, "readings": [0]}],
"proposal": {"material": "vermiculite"}})";
  const SurveyRead read = read_survey(survey, tables());
  REQUIRE(read.faults.size() == 1);
  CHECK(read.faults[0].pointer == "/proposal/material");
}
