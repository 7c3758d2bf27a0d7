// SPDX-License-Identifier: MIT
// While fill taken as asbestos is not cleared, no face of a result asks anyone to touch it.
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <regex>

#include "fixtures.hpp"
#include "overjoist/batch.hpp"
#include "overjoist/report.hpp"
#include "overjoist/report_inspect.hpp"

using namespace fixtures;

namespace {

/// What would stir the fill, as a person or a crew is told it.
constexpr const char* kForbidden[] = {"\\bweigh\\b",
                                      "\\bsample[sd]?\\b",
                                      "read (it |them )?(more|again)",
                                      "more readings?",
                                      "more spots",
                                      "take at least",
                                      "look (there )?again",
                                      "look and measure",
                                      "measure it",
                                      "must be measured",
                                      "\\blift(ed|s)?\\b",
                                      "laid back",
                                      "slash",
                                      "fill (the )?(bays|it|beneath)",
                                      "(bays|gap) filled",
                                      "take it off",
                                      "take out",
                                      "comes out",
                                      "squeeze[sd]? (it|under|the)",
                                      "\\bcompress",
                                      "\\bmove\\b",
                                      "blow (flat |in |to )",
                                      "level it out",
                                      "have it identified",
                                      "seal every bypass",
                                      "blower[- ]door",
                                      "step on framing",
                                      "opened; depth alone"};

std::string in_one_line(const std::string& text) {
  static const std::regex blanks("(\\s|&#160;|&nbsp;|<[^>]*>)+");
  return std::regex_replace(text, blanks, " ");
}

/// The text without the words that forbid: those of the fills that nobody may touch.
std::string without_the_ban(std::string text) {
  for (const CautionRow& row : tables().cautions)
    if (row.hands_off)
      for (std::size_t at = text.find(row.text); at != std::string::npos; at = text.find(row.text))
        text.erase(at, row.text.size());
  return text;
}

std::vector<std::string> forbidden_in(const std::string& text) {
  std::vector<std::string> found;
  const std::string plain = without_the_ban(in_one_line(text));
  for (const char* pattern : kForbidden) {
    std::smatch match;
    if (std::regex_search(plain, match, std::regex(pattern, std::regex::icase))) {
      const auto at = static_cast<std::size_t>(match.position());
      found.push_back(plain.substr(at > 60 ? at - 60 : 0, 140));
    }
  }
  return found;
}

Evaluation evaluated(const std::string& json) {
  const SurveyRead read = read_survey(json, tables());
  for (const Diagnostic& d : read.faults) MESSAGE(d.pointer << ": " << d.message);
  REQUIRE(read.survey);
  return evaluate(*read.survey, tables());
}

/// Every face of an evaluation, by name.
std::vector<std::pair<std::string, std::string>> faces_of(const Evaluation& e) {
  std::vector<std::pair<std::string, std::string>> all;
  const auto add = [&](const std::string& name, auto write) {
    std::string text;
    write(text);
    all.emplace_back(name, text);
  };
  for (const Units units : {Units::us, Units::si}) {
    add("text", [&](std::string& t) { write_text(t, e, tables(), {units, false}); });
    add("page", [&](std::string& t) { write_html(t, e, tables(), units); });
    add("json", [&](std::string& t) { write_json(t, e, tables(), {units, true}); });
    const PreparedWords words = prepare_words(tables());
    add("jsonl", [&](std::string& t) { write_json(t, e, tables(), {units, false, &words}); });
    add("order", [&](std::string& t) {
      write_order_text(t, e, tables(), {units, false, true, End::high});
    });
    add("order page", [&](std::string& t) {
      write_order_html(t, e, tables(), {units, false, false, End::high});
    });
    add("goods", [&](std::string& t) { write_goods_text(t, e, tables(), {units, false, true}); });
    add("goods page", [&](std::string& t) {
      write_goods_html(t, e, tables(), {units, false, true});
    });
  }
  add("goods json", [&](std::string& t) { write_goods_json(t, e, tables(), {}); });
  add("csv", [&](std::string& t) { write_csv(t, e, tables(), {}, {}); });
  return all;
}

/// An attic with something to say of nearly everything; `fill` is the first layer, `more` further
/// keys of the survey.
std::string attic(const std::string& fill, const std::string& more) {
  return R"({"format": "overjoist-survey", "version": 1, "site": {"climate_zone": "5",
"year_built": 1950, "hdd65_f_day": 6000},
 "sections": [
  {"name": "a", "kind": "flat", "area_ft2": 700, "layers": [)" +
         fill +
         R"(, {"material": "glass-fiber-batt", "label_r": 19, "label_thickness_in": 6.25,
"facing": "kraft", "lies": "across"},
    {"material": "glass-fiber-batt", "label_r": 11, "label_thickness_in": 3.5,
"facing": "unknown", "condition": "voids"}],
   "readings": ["11 to 13", 14, 4], "bypasses": [{"kind": "top-plate"}, {"kind": "wire-hole",
"count": 9}, {"kind": "pull-down-stair"}]},
  {"name": "b", "kind": "flat", "area_ft2": 100, "layers": [{"material": "unknown-loose"}],
"readings": [1, 9]},
  {"name": "c", "kind": "decked", "area_ft2": 90, "deck": "plywood-1/2",
"layers": [{"material": "cellulose-loose"}], "readings": [2, 3]},
  {"name": "d", "kind": "slope", "area_ft2": 90, "layers": [{"material": "glass-fiber-batt",
"label_r": 11, "label_thickness_in": 3.5}]},
  {"name": "e", "kind": "knee-wall", "area_ft2": 60, "layers": []},
  {"name": "f", "kind": "pull-down-stair", "area_ft2": 10, "insulation_r": 2},
  {"name": "g", "kind": "flat", "area_ft2": 50, "layers": [{"material": "cotton-batt",
"label_r": 13, "label_thickness_in": 3.5,
    "condition": "remove"}, {"material": "glass-fiber-loose", "condition": "wet"}], "readings": [7, 8]}],
 "proposal": {"material": "cellulose-loose"}, "compare": [{"material": "glass-fiber-loose"}],
 "heating": {"fuel": "natural-gas", "efficiency": 0.8, "price_per_unit": 1.2},
 "winter": {"indoor_f": 70, "indoor_rh_percent": 60, "attic_f": 20},
 "equipment": [{"kind": "duct"}, {"kind": "fan"}, {"kind": "pipe"}])" +
         more + "}";
}

const char* const kHazards =
    R"({"kind": "blocked-soffit"}, {"kind": "facing-cold-side", "where": "a"},
{"kind": "droppings"}, {"kind": "mould"})";

/// The surveys of which no face may ask for anything: by a layer, by a hazard, by a material of the
/// user's own, to come out, unmeasured.
std::vector<std::string> guarded() {
  const std::string others = std::string(", \"hazards\": [") + kHazards;
  return {
      R"({"format": "overjoist-survey", "version": 1, "site": {"climate_zone": "5"},
"sections": [{"name": "a", "kind": "flat",
        "area_ft2": 700, "joists": {"size": "2x6", "spacing_in": 16},
"layers": [{"material": "vermiculite"}], "readings": ["3 to 4"]}],
        "proposal": {"material": "cellulose-loose"}})",
      attic(R"({"material": "vermiculite"})", others + "]"),
      attic(R"({"material": "vermiculite", "condition": "remove"})", others + "]"),
      attic(R"({"material": "unknown-loose"})",
            others + R"(, {"kind": "unidentified-granular-fill"}])"),
      attic(R"({"material": "cellulose-loose"})",
            others + R"(, {"kind": "vermiculite", "where": "under the boards"}])"),
      attic(R"({"material": "old-fill"})",
            others +
                R"(], "materials": [{"id": "old-fill", "name": "grey ASBESTOS wool",
"form": "loose", "r_per_inch": 2}])"),
      R"({"format": "overjoist-survey", "version": 1, "sections": [{"name": "a", "kind": "flat",
"area_ft2": 700,
        "layers": [{"material": "vermiculite"}, {"material": "glass-fiber-batt", "label_r": 19,
"label_thickness_in": 6.25}]},
        {"name": "b", "kind": "flat", "area_ft2": 100,
"layers": [{"material": "cellulose-loose"}], "readings": [3]}]})"};
}

}  // namespace

// Symptom: a person in an attic of vermiculite was told to weigh a sample, read more spots, slash
// facings and fill bays: cautions for other reasons, assumptions and steps knew nothing of it.
// Source: EPA and ATSDR, Current Best Practices for Vermiculite Attic Insulation.
TEST_CASE(
    "hands off: no face of an attic with fill taken as asbestos asks for what would stir it") {
  for (const std::string& json : guarded()) {
    CAPTURE(json);
    const Evaluation e = evaluated(json);
    CHECK(e.hands_off);
    CHECK(e.stopped());
    for (const auto& face : faces_of(e)) {
      const std::string &name = face.first, &text = face.second;
      CAPTURE(name);
      for (const std::string& found : forbidden_in(text)) FAIL_CHECK(found);
    }
  }
}

// Invariant: the same attic with cellulose does ask for such things, in text, page, order and JSON:
// the list of words can find them.
TEST_CASE("hands off: an attic without such fill is still told what to do") {
  const Evaluation e = evaluated(attic(R"({"material": "cellulose-loose"})", ""));
  CHECK_FALSE(e.hands_off);
  for (const auto& face : faces_of(e)) {
    const std::string &name = face.first, &text = face.second;
    CAPTURE(name);
    if (name == "csv" || name == "goods json") continue;
    CHECK(forbidden_in(text).size() >= 3);
  }
}

// Invariant: whatever raises a row, its words while hands are kept off ask for nothing; a stop or
// fix-first is never left out.
TEST_CASE("hands off: every caution and assumption that is still said keeps off the fill") {
  for (const CautionRow& row : tables().cautions) {
    if (row.hands_off || (row.level >= CautionLevel::care && !row.quiet)) continue;
    CAPTURE(row.code);
    Caution said;
    said.quiet = true;
    for (const std::string& found : forbidden_in(said.text(row) + " " + said.clears(row)))
      FAIL_CHECK(found);
  }
  for (const AssumptionRow& row : tables().assumptions) {
    CAPTURE(row.code);
    Assumption said;
    said.quiet = true;
    for (const std::string& found : forbidden_in(said.what(row) + " " + said.why(row)))
      FAIL_CHECK(found);
  }
}

// Hand derivation: a paper of person, date and name for the place lifts the ban; the usual advice
// is back.
TEST_CASE("hands off: a fill that is cleared is treated as any other") {
  const std::string paper =
      R"("cleared": {"by": "laboratory", "date": "2026-05-04", "paper": "report 7"}})";
  const Evaluation e =
      evaluated(attic(R"({"material": "vermiculite"})",
                      R"(, "hazards": [{"kind": "vermiculite", "where": "a", )" + paper + "]"));
  CHECK_FALSE(e.hands_off);
  CHECK(std::any_of(e.findings.cautions.begin(), e.findings.cautions.end(), [](const Caution& c) {
    return tables().cautions[c.row].code == "few-readings";
  }));
}

namespace {

std::string one_section(const std::string& layers, const std::string& more) {
  return R"({"format": "overjoist-survey", "version": 1, "sections": [{"name": "a",
"kind": "flat", "area_ft2": 700, "layers": [)" +
         layers + "]}]" + more + "}";
}

}  // namespace

// Symptom: a survey that left vermiculite alone was refused for want of its depth. Hand derivation:
// what is not known counts nothing: films and ceiling alone, 0.61 + 0.45 + 0.46 = R-1.52, and no
// wood stands in the way of it.
TEST_CASE(
    "hands off: the depth of such fill is not asked for, counts nothing, and nothing is planned on "
    "it") {
  const Evaluation e = evaluated(one_section(R"({"material": "vermiculite"})", ""));
  const WholeSection s = section_of(e);
  CHECK(s.existing.unmeasured);
  near(s.existing.effective_r.us(), 1.52, kNoise);
  CHECK_FALSE(s.existing.effective_r_range);
  CHECK_FALSE(s.existing.verdict);
  CHECK_FALSE(s.existing.weight);
  CHECK(s.low.status == TopUpStatus::not_applicable);
  CHECK_FALSE(s.high.initial_level);
  CHECK_FALSE(s.cut);
  std::string text;
  write_text(text, e, tables(), {Units::us, false});
  CHECK(in_one_line(text).find("depth not measured, and it must not be; at least R-0 working") !=
        std::string::npos);
  std::string json;
  write_json(json, e, tables(), {Units::us, true});
  const auto existing = nlohmann::json::parse(json)["sections"][0]["existing"];
  CHECK(existing["depth_left_unmeasured"] == true);
  CHECK(existing["mean_depth_in"].is_null());
}

// Hand derivation: the batt on top is known by its label and counts; the fill below it does not.
TEST_CASE("hands off: what lies on unmeasured fill still counts by its label") {
  const Evaluation e = evaluated(one_section(
      R"({"material": "vermiculite"}, {"material": "glass-fiber-batt", "label_r": 19,
"label_thickness_in": 6.25})",
      ""));
  near(e.sections[0].existing.working_r.us(), 19, kNoise);
}

// Hand derivation: R is at least what is shown, so neither an R that a quote found nor a share of
// the loss can be held against it.
TEST_CASE("hands off: a quote is not judged by a depth that nobody measured") {
  const Evaluation e = evaluated(one_section(
      R"({"material": "vermiculite"})",
      R"(, "claims": [{"kind": "existing_r", "r": 8}, {"kind": "percent_saved", "percent": 10}])"));
  REQUIRE(e.claims.size() == 2);
  for (const ClaimResult& c : e.claims) CHECK(c.verdict == ClaimVerdict::not_judged);
}

// Invariant: readings are asked for again once the fill is cleared, and of any other loose fill.
TEST_CASE("hands off: depth is asked for where the fill may be touched") {
  const auto refused = [](const std::string& json) {
    return !read_survey(json, tables()).faults.empty();
  };
  const std::string vermiculite = R"({"material": "vermiculite"})",
                    unknown = R"({"material": "unknown-loose"})";
  const std::string open = R"(, "hazards": [{"kind": "unidentified-granular-fill"}])";
  const std::string elsewhere =
      R"(, "hazards": [{"kind": "vermiculite", "cleared": {"by": "lab", "date": "2026-05-04",
"paper": "7"}}])";
  CHECK_FALSE(refused(one_section(vermiculite, "")));
  CHECK_FALSE(refused(one_section(unknown, open)));
  CHECK(refused(one_section(unknown, "")));
  CHECK(refused(one_section(vermiculite, elsewhere)));
}

// Symptom: the sound batts over vermiculite that comes out were "lifted and laid back". Source: EPA
// and ATSDR, as above: it is not to be disturbed, and what lay in it holds its dust. Hand
// derivation: with the batt gone too, new fill starts from the bare ceiling.
TEST_CASE("hands off: what lies on such fill goes out with it") {
  const char* layers = R"({"material": "vermiculite", "thickness_in": 3, "condition": "remove"},
    {"material": "glass-fiber-batt", "label_r": 19, "label_thickness_in": 6.25})";
  const Evaluation e = evaluated(one_section(layers, ""));
  REQUIRE(e.sections[0].removals.size() == 2);
  const Evaluation bare = evaluated(
      R"({"format": "overjoist-survey", "version": 1, "sections": [{"name": "a", "kind": "flat",
    "area_ft2": 700, "readings": [0]}]})");
  CHECK(*e.planned.high.sections[0].initial_level == *bare.planned.high.sections[0].initial_level);
}

// Symptom: as above, after the job: "Blow in what is missing", "Level it out".
// Source: EPA and ATSDR, as above.
TEST_CASE("hands off: no face of an inspection over such fill asks for what would stir it") {
  const std::string survey = attic(R"({"material": "vermiculite"})", "");
  for (const char* depths : {"[30, 30]", "[19, 31]", "[5]", "[]"}) {
    for (const char* bags : {"5", "95"}) {
      const std::string given =
          std::string(depths) == "[]" ? "" : fmt::format(R"(, "depths": {})", depths);
      const std::string record = fmt::format(
          R"({{"format": "overjoist-record", "version": 1, "bag_net_lb": 25,
"sections": [{{"name": "a", "bags": {}{}}}]}})",
          bags, given);
      const PairOutcome outcome = inspect_texts(survey, record, tables());
      REQUIRE(outcome.inspection);
      CHECK(unproven(outcome.inspection->verdict));
      std::string text, receipt, page, json;
      write_inspection_text(text, *outcome.inspection, tables(), {Units::us, false});
      write_receipt_text(receipt, *outcome.inspection, tables(), {Units::us, false});
      write_receipt_html(page, *outcome.inspection, tables(), Units::us);
      write_inspection_json(json, *outcome.inspection, tables(), {Units::us, true});
      for (const std::string& face : {text, receipt, page, json})
        for (const std::string& found : forbidden_in(face)) FAIL_CHECK(found);
    }
  }
}

// Symptom: the rows of a section gave level, depth and bags over vermiculite. Cause: the table knew
// nothing of hands off. Invariant: the cells of a plan are empty until the fill is cleared, as many
// as the head names; a cleared one has them.
TEST_CASE("hands off: section rows of CSV hold no plan") {
  Survey survey = survey_of({loose_section({4, 4, 4, 4, 4}, "vermiculite")});
  const auto cells = [&](const char* column) {
    std::string head, row;
    CsvStyle style;
    style.sections = true;
    write_csv_header(head, style);
    write_csv(row, evaluate(survey, tables()), tables(), {}, style);
    CHECK(std::count(head.begin(), head.end(), ',') == std::count(row.begin(), row.end(), ','));
    std::size_t at = 0;
    for (long n =
             std::count(head.begin(), head.begin() + static_cast<long>(head.find(column)), ',');
         n > 0; --n)
      at = row.find(',', at) + 1;
    return row.substr(at, row.find(',', at) - at);
  };
  constexpr const char* kPlan[] = {
      "status_low",        "initial_level_in_low", "new_depth_in_low",
      "bags_low",          "status_high",          "initial_level_in_high",
      "new_depth_in_high", "working_r_high",       "bags_high"};
  for (const char* column : kPlan) {
    CAPTURE(column);
    CHECK(cells(column).empty());
  }
  CHECK(cells("mean_depth_in") == "4");
  survey.hazards = {{"vermiculite", "", "J. Doe", "2026-05-04", "release 12"}};
  for (const char* column : {"status_high", "initial_level_in_high", "working_r_high"})
    CHECK_FALSE(cells(column).empty());
}

// Symptom: vermiculite was listed "to go" beside "it stays as it lies". Cause: the list of removals
// kept its heading. Invariant: no face of an attic that is not cleared says that anything goes.
TEST_CASE("hands off: fill that stays as it lies is not listed as to go") {
  Survey survey = survey_of({loose_section({4, 4, 4, 4, 4}, "vermiculite")});
  survey.sections[0].layers[0].condition = Condition::remove;
  const Evaluation e = evaluate(survey, tables());
  std::string text, page;
  write_text(text, e, tables(), {});
  write_html(page, e, tables(), Units::us);
  for (const std::string& face : {text, page}) {
    CHECK(face.find("  to go ") == std::string::npos);
    CHECK(face.find("(to go") == std::string::npos);
  }
  CHECK(text.find("stays     ") != std::string::npos);
}
