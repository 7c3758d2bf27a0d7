// SPDX-License-Identifier: MIT
// Ready is said only of what was looked at whole; what is said of leaks, soffits and facings is
// true of the attic at hand.
#include <sstream>

#include "inspect_fixture.hpp"
#include "overjoist/report.hpp"
#include "overjoist/report_inspect.hpp"
#include "overjoist/survey_json.hpp"

using namespace fixtures;

namespace {

std::string one_line(const std::string& text) {
  std::istringstream in(text);
  std::string out, word;
  while (in >> word) out += (out.empty() ? "" : " ") + word;
  return out;
}

/// Report, order and page, each in one line.
std::string words_of(const Evaluation& e) {
  std::string text, order, page;
  write_text(text, e, tables(), {});
  write_order_text(order, e, tables(), OrderStyle{});
  write_html(page, e, tables(), Units::us);
  return one_line(text) + " " + one_line(order) + " " + one_line(page);
}

bool raised(const Evaluation& e, std::string_view code) {
  return std::any_of(e.findings.cautions.begin(), e.findings.cautions.end(),
                     [&](const Caution& c) { return tables().cautions[c.row].code == code; });
}

constexpr const char* kAll =
    R"(,"hazards":[],"ventilation":{"low_nfa_in2":600,"high_nfa_in2":600})";

/// Two floors that have what they need, with further keys of each and of the survey.
Evaluation result_of(const std::string& first, const std::string& second,
                     const std::string& whole) {
  const std::string floor =
      R"("kind":"flat","area_ft2":500,"ceiling":"gypsum-1/2","joists":{"size":"2x6","spacing_in":16},
    "layers":[{"material":"cellulose-loose"}],"readings":[12,12,12,12,12])";
  const SurveyRead read = read_survey(
      R"({"format":"overjoist-survey","version":1,"target":{"low_r":30,"high_r":30},"sections":[
    {"name":"north",)" +
          floor + first + R"(},{"name":"south",)" + floor + second + "}]" + whole + "}",
      tables());
  REQUIRE(read.survey);
  return evaluate(*read.survey, tables());
}

}  // namespace

// Symptom: ready to insulate, though one of two floors was never looked over for leaks, one side of
// the vents or a fan's end not known. Cause: a part that was looked at stood for the whole.
// Invariant: each of these alone takes the readiness away, and is named.
TEST_CASE("readiness: half of a thing looked at is not looked at") {
  const std::string none = R"(,"bypasses":[])";
  CHECK(result_of(none, none, kAll).plan.readiness.ready);
  struct Case {
    std::string first, second, whole, words, code;
  };
  const std::string fan =
      R"(,"hazards":[],"ventilation":{"low_nfa_in2":600,"high_nfa_in2":600},"equipment":[{"kind":"fan"}])";
  for (const Case& c : {Case{none, "", kAll, "not looked at: air leaks of south.", "bypasses"},
                        Case{"", none, kAll, "not looked at: air leaks of north.", "bypasses"},
                        Case{"", "", kAll, "not looked at: air leaks.", "bypasses"},
                        Case{none, none, R"(,"hazards":[],"ventilation":{"low_nfa_in2":600})",
                             "not looked at: high vents.", "vents"},
                        Case{none, none, R"(,"hazards":[],"ventilation":{"high_nfa_in2":600})",
                             "not looked at: low vents.", "vents"},
                        Case{none, none, R"(,"hazards":[],"ventilation":{"low_nfa_in2":0})",
                             "not looked at: high vents.", "vents"},
                        Case{none, none, fan, "not looked at: where a fan ends.", "fan-ends"}}) {
    CAPTURE(c.words);
    const Evaluation e = result_of(c.first, c.second, c.whole);
    CHECK_FALSE(e.plan.readiness.ready);
    const std::string all = words_of(e);
    CHECK(says(all, c.words));
    CHECK_FALSE(says(all, "ready to insulate, as far"));
    std::string json;
    write_json(json, e, tables(), {});
    CHECK(says(json, R"("state":"not-looked-at","not_looked_at":[")" + c.code + R"("])"));
  }
  std::string ended = fan;
  ended.replace(ended.find(R"("fan"})"), 6, R"("fan","ends_outdoors":true})");
  CHECK(result_of(none, none, ended).plan.readiness.ready);
}

// Symptom: a survey with an empty list of bypasses was told to look for them. Cause: the writers
// asked whether one was entered. Hand derivation: an empty list says that somebody looked; no list
// at one floor, and it is still to be done.
TEST_CASE("readiness: who looked for leaks and found none is not told to look for them") {
  const std::string none = R"(,"bypasses":[])";
  const std::string looked = words_of(result_of(none, none, kAll));
  CHECK_FALSE(says(looked, "ook for them"));
  CHECK(says(looked, "looked for, and no bypass was found"));
  CHECK(says(words_of(result_of(none, "", kAll)), "look for them before anything is covered"));
  CHECK(says(words_of(result_of("", "", "")), "look for them before anything is covered"));
}

// Symptom: an unvented attic with blocked soffits was told to clear them and fit baffles. Cause:
// one text for both kinds of attic. Hand derivation: what is closed there is meant to be; where the
// attic is vented, or may be, the text stands.
TEST_CASE("readiness: an unvented attic is told nothing of baffles") {
  const std::string none = R"(,"bypasses":[])",
                    soffit = R"(,"hazards":[{"kind":"blocked-soffit"}])";
  const Evaluation unvented = result_of(none, none, soffit + R"(,"site":{"attic":"unvented"})");
  const std::string all = words_of(unvented);
  CHECK_FALSE(says(all, "affle"));
  CHECK_FALSE(raised(unvented, "blocked-soffit"));
  CHECK(raised(unvented, "soffit-closed"));
  CHECK(says(words_of(result_of(none, none, soffit)), "fit baffles"));
}

// Symptom: faced batts at the roof deck were told that bare facing burns. Cause: whether boards lie
// over the facing was never asked. Hand derivation: under a deck and in a slope nothing is bare;
// foam without a facing has none; toward an open attic it is bare.
TEST_CASE("readiness: no bare facing is spoken of under a deck or where there is none") {
  const auto words = [](SectionKind kind, Layer layer, double gap) {
    Section s = flat_section();
    s.kind = kind;
    layer.thickness = layer.label_thickness;
    s.layers = {layer};
    if (kind == SectionKind::slope) s.vent_gap = inches(gap);
    if (!is_cavity(kind)) s.readings = {reading_of(5.5), reading_of(5.5)};
    return words_of(evaluate(survey_of({s}), tables()));
  };
  Layer faced = batt_of(19, 5.5);
  faced.facing = Facing::kraft;
  faced.facing_side = FacingSide::attic;
  Layer foam = layer_of("spray-foam-closed");
  foam.label_thickness = inches(3);
  for (const double gap : {0.0, 1.0}) {
    CHECK_FALSE(says(words(SectionKind::slope, faced, gap), "bare facing burns"));
    CHECK_FALSE(says(words(SectionKind::slope, foam, gap), "he facing on"));
    CHECK_FALSE(says(words(SectionKind::slope, foam, gap), "bare facing burns"));
  }
  CHECK_FALSE(says(words(SectionKind::decked, faced, 0), "bare facing burns"));
  CHECK(says(words(SectionKind::decked, faced, 0), "against the boards above it"));
  CHECK(says(words(SectionKind::flat, faced, 0), "bare facing burns"));
  Section empty = flat_section();
  empty.kind = SectionKind::slope;
  empty.add = faced;
  const Evaluation e = evaluate(survey_of({empty}), tables());
  CHECK(raised(e, "facing-under-deck"));
  CHECK_FALSE(raised(e, "facing-cold-side"));
}

// Symptom: "hazards 0" beside a stop that a bypass raises. Cause: only listed hazards were counted.
// Hand derivation: a fan that ends in the attic is one stop, however it is entered; the record
// clears it as it clears a listed one.
TEST_CASE("readiness: an inspection counts a stop that a bypass raises") {
  Survey survey = hand_job();
  Bypass fan;
  fan.kind = "bath-fan";
  fan.count = 1;
  fan.ends_outdoors = false;
  survey.sections[0].bypasses = {fan};
  Record record = record_of({built("floor", 35, {16.25})});
  const Inspection in = inspected(survey, record);
  CHECK(in.totals.stops_open == 1);
  CHECK(in.totals.hazards_open == 1);
  CHECK(in.verdict == BuiltVerdict::stop_open);
  record.cleared = {
      {"fan-into-attic", "floor", "A. Rigg", "installer", "2026-05-06", "photo of the outlet"}};
  const Inspection cleared = inspected(survey, record);
  CHECK(cleared.totals.stops_open == 0);
  CHECK(cleared.totals.hazards_open == 0);
}
