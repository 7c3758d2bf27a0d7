// SPDX-License-Identifier: MIT
#include "overjoist/survey_json.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

using namespace overjoist;  // a test names many of the library's words

namespace {

const Tables& tables() {
  static const Tables kTables = builtin_tables();
  return kTables;
}

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<std::filesystem::path> surveys_in(const char* folder) {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(
           std::filesystem::path(OVERJOIST_TESTS_DIR) / "surveys" / folder))
    if (entry.path().extension() == ".json") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  REQUIRE_FALSE(paths.empty());
  return paths;
}

/// A survey with one flat section; `more` are further keys of the section, each ending in a comma.
std::string section_with(const std::string& more) {
  return R"({"format": "overjoist-survey", "version": 1, "sections": [{)" + more +
         R"("name": "attic", "kind": "flat", "area_ft2": 900,
"layers": [{"material": "cellulose-loose"}]}]})";
}
std::string survey_with(const std::string& more) {
  return R"({"format": "overjoist-survey", "version": 1, )" + more +
         R"("sections": [{"name": "attic", "kind": "flat", "area_ft2": 900, "readings": [0]}]})";
}

Survey survey_of(const std::string& text) {
  SurveyRead read = read_survey(text, tables());
  for (const Diagnostic& d : read.faults) FAIL_CHECK(d.pointer << ": " << d.message);
  REQUIRE(read.survey);
  return *read.survey;
}

/// Lines `pointer|line:column|part of message|part of hint`.
void check_expected(const SurveyRead& read, const std::string& expected) {
  std::istringstream lines(expected);
  std::string line;
  std::size_t n = 0;
  for (; std::getline(lines, line); ++n) {
    REQUIRE(n < read.faults.size());
    const Diagnostic& d = read.faults[n];
    std::istringstream parts(line);
    std::string pointer, place, message, hint;
    std::getline(parts, pointer, '|');
    std::getline(parts, place, '|');
    std::getline(parts, message, '|');
    std::getline(parts, hint);
    CHECK(d.pointer == pointer);
    CHECK(std::to_string(d.line) + ':' + std::to_string(d.column) == place);
    CHECK(d.message.find(message) != std::string::npos);
    CHECK(d.hint.find(hint) != std::string::npos);
  }
  CHECK(n == read.faults.size());
}

}  // namespace

// Invariant: these files are valid by the schema too (schema_check.py); the format is a promise.
TEST_CASE("survey: every good file gives a survey") {
  for (const auto& path : surveys_in("good")) {
    CAPTURE(path.filename().string());
    const SurveyRead read = read_survey(text_of(path), tables());
    CHECK(read.survey.has_value());
    CHECK(read.faults.empty());
  }
}

// Common practice: one fault a file; its .expect names pointer, place and words, written down
// beside the text by eye.
TEST_CASE("survey: every bad file is refused with its place, what is allowed and what to do") {
  for (const auto& path : surveys_in("bad")) {
    CAPTURE(path.filename().string());
    const SurveyRead read = read_survey(text_of(path), tables());
    CHECK_FALSE(read.survey.has_value());
    check_expected(read, text_of(std::filesystem::path(path).replace_extension(".expect")));
  }
}

// Hand derivation: 40 ft x 24.5 ft = 980 ft2; "4 to 6" is 4 and 6 in.; 15 cm = 15/2.54 in.
TEST_CASE("survey: values arrive in the structs in US units") {
  const Survey s = survey_of(
      text_of(std::filesystem::path(OVERJOIST_TESTS_DIR) / "surveys/good/loose-on-batt.json"));
  CHECK(s.id == "A-17");
  CHECK(s.site.climate_zone == "5A");
  CHECK(*s.site.storeys == 2);
  REQUIRE(s.sections.size() == 2);
  const Section& main = s.sections[0];
  CHECK(main.area.us() == 980);
  CHECK(main.ceiling->material == "gypsum-1/2");
  CHECK(main.joists->size == "2x6");
  REQUIRE(main.layers.size() == 2);
  CHECK(main.layers[0].label_r->us() == 11);
  CHECK(main.layers[0].label_thickness->us() == 3.5);
  CHECK(main.layers[0].facing == Facing::kraft);
  CHECK(*main.layers[0].facing_side == FacingSide::ceiling);
  REQUIRE(main.readings.size() == 7);
  CHECK(main.readings[1].depth.us() == 5.5);
  CHECK(main.readings[1].depth_to.us() == 5.5);
  CHECK(main.readings[3].depth.us() == 4);
  CHECK(main.readings[3].depth_to.us() == 6);
  CHECK(main.readings[4].flush);
  CHECK(main.readings[5].depth.us() == 15 / 2.54);
  CHECK(main.readings[5].where == "over the bath");
  CHECK(main.readings[5].share < 0);
  CHECK(main.patches[0].kind == "light-cover");
  CHECK(s.sections[1].kind == SectionKind::hatch);
  CHECK(s.sections[1].after_insulation_r->us() == 30);
  CHECK(*s.target.basis == Basis::working);
  CHECK(*s.proposal->waste_percent == 5);
  CHECK(s.proposal->labour->price_per_ft2 == 0.6);
  CHECK(s.proposal->extras[0].what == "baffles");
}

// Hand derivation: 1 + 4.5 in.; grade II is 2 % (reference on installation grades); 1000/28 ft2 a
// bag.
TEST_CASE("survey: layered depths are added, presets and bags per area are turned into numbers") {
  const Survey decked =
      survey_of(text_of(std::filesystem::path(OVERJOIST_TESTS_DIR) / "surveys/good/decked.json"));
  CHECK(decked.sections[0].readings[0].depth.us() == 5.5);
  CHECK(decked.sections[0].readings[0].layer_depths.size() == 2);
  CHECK(decked.sections[0].joists->member == Member::truss_chord);
  CHECK(decked.sections[1].deck->r->us() == 0.94);
  const Survey chart =
      survey_of(text_of(std::filesystem::path(OVERJOIST_TESTS_DIR) / "surveys/good/chart.json"));
  CHECK(*chart.sections[0].layers[0].void_share == 0.02);
  CHECK(chart.proposal->product->chart[0].coverage->us() ==
        doctest::Approx(1000.0 / 28).epsilon(1e-15));
  CHECK(chart.hazards[0].said_cleared());
  CHECK_FALSE(chart.hazards[1].said_cleared());
  CHECK(survey_of(section_with(R"("readings": ["10 to 12 cm"], )"))
            .sections[0]
            .readings[0]
            .depth.us() == 10 / 2.54);
}

// Hand derivation: depth 4 without a share is one reading; condition follows from void_share.
TEST_CASE("survey: a share of voids makes the condition voids") {
  const std::string text =
      R"({"format": "overjoist-survey", "version": 1, "sections": [{"name": "a", "kind": "flat",
"area_ft2": 9, "readings": [4],
    "layers": [{"material": "cellulose-loose", "void_share": 0.1}]}]})";
  CHECK(survey_of(text).sections[0].layers[0].condition == Condition::voids);
}

// Invariant: the user's own keys come through byte for byte, and nested ones are passed over.
TEST_CASE("survey: x_ keys of the top level keep their raw text") {
  const Survey s = survey_of(survey_with(
      R"("x_a": {"b" : [1, null,  "\u00e9"]} , "x_n": 1.50, "x_null": null, "x_t": "t\"",
"site": {"x_own": [[]]}, )"));
  REQUIRE(s.extras.size() == 4);
  CHECK(s.extras[0].first == "x_a");
  CHECK(s.extras[0].second == R"({"b" : [1, null,  "\u00e9"]})");
  CHECK(s.extras[1].second == "1.50");
  CHECK(s.extras[2].second == "null");
  CHECK(s.extras[3].second == R"("t\"")");
  CHECK_FALSE(read_survey(survey_with(R"("x_a": 1, "x_a": 2, )"), tables()).survey);
}

// Common practice: whoever fixes a file wants all its faults at once, in the order in which they
// stand there.
TEST_CASE("survey: all faults are reported in one go, those before a syntax fault too") {
  const std::string text =
      "{\"format\": \"overjoist-survey\", \"version\": 3, \"id\": \"A-1\",\n \"lable\": 1,\r\n "
      "\"sections\": [{\"name\": \"a\", \"kind\": "
      "\"flat\","
      " \"area_ft2\": -1, \"readings\": [4, true,\n null]}]";
  const SurveyRead read = read_survey(text, tables());
  REQUIRE(read.faults.size() == 6);
  CHECK(read.id == "A-1");
  CHECK(read.faults[0].pointer == "/version");
  CHECK(read.faults[1].hint == "did you mean \"label\"?");
  CHECK(read.faults[2].line == 3);
  CHECK(read.faults[3].pointer == "/sections/0/readings/1");
  CHECK(read.faults[4].line == 4);
  CHECK(read.faults[4].column == 2);
  CHECK(read.faults[5].message == "the file ends before the JSON does");
}

// Invariant: a fault of one section hides no contradiction of another, and makes no echo in its
// own.
TEST_CASE("survey: contradictions are looked for in every section that is in order by itself") {
  const SurveyRead read = read_survey(R"({"format": "overjoist-survey", "version": 1, "sections": [
    {"name": "a", "kind": "flat", "area_ft2": "x", "readings": [7]}, {"name": "b", "kind": "flat",
"area_ft2": 9, "readings": [7]}]})",
                                      tables());
  REQUIRE(read.faults.size() == 2);
  CHECK(read.faults[0].pointer == "/sections/0/area_ft2");
  CHECK(read.faults[1].pointer == "/sections/1/readings");
}

// Invariant: a file made by a Windows editor is the same survey; columns do not count the mark.
TEST_CASE("survey: a byte order mark and CRLF are passed over") {
  CHECK(read_survey("\xEF\xBB\xBF" + survey_with("\r\n"), tables()).survey);
  const SurveyRead read = read_survey("\xEF\xBB\xBF[]", tables());
  REQUIRE(read.faults.size() == 1);
  CHECK(read.faults[0].column == 1);
}

// Common practice: limits keep a broken file from flooding screen or memory.
TEST_CASE("survey: limits on faults, size, depth and zero bytes") {
  std::string many;
  for (int i = 0; i < 150; ++i) many += i ? ",-1" : "-1";
  const SurveyRead read = read_survey(section_with("\"readings\": [" + many + "], "), tables());
  REQUIRE(read.faults.size() == 101);
  CHECK(read.faults.back().message == "and more faults");
  CHECK(read_survey(std::string((16U << 20U) + 1, ' '), tables())
            .faults.front()
            .message.find("16 MiB") != std::string::npos);
  CHECK(read_survey(std::string(100000, '['), tables()).faults.size() ==
        2);  // a list, and too deep
  CHECK(read_survey("{\"x_a\": " + std::string(100000, '['), tables()).faults.front().message ==
        "nested deeper than 32 levels");
  CHECK(read_survey(survey_with("\"x_a\": " + std::string(31, '[') + std::string(31, ']') + ", "),
                    tables())
            .survey);
  CHECK_FALSE(
      read_survey(survey_with("\"x_a\": " + std::string(32, '[') + std::string(32, ']') + ", "),
                  tables())
          .survey);
  CHECK_FALSE(read_survey(survey_with("") + std::string(1, '\0') + "x", tables()).survey);
}

// Independent: 100,000 readings of one depth have that depth as mean; time is bounded by the test's
// own limit.
TEST_CASE("survey: a hundred thousand readings in one section are read") {
  std::string many = "5";
  for (int i = 1; i < 100000; ++i) many += ",5";
  const Survey s = survey_of(section_with("\"readings\": [" + many + "], "));
  CHECK(s.sections[0].readings.size() == 100000);
  CHECK(mean_depth(merge_readings(s.sections[0].readings, inches(5.5))).us() ==
        doctest::Approx(5).epsilon(1e-9));
}

// Common practice: people write the word of the shop or the site. Only what can stand there is
// offered, and the words for it are never taken as an id.
TEST_CASE("survey: an unknown material offers what people mean by that word in that place") {
  const auto hint = [](const std::string& more) {
    const SurveyRead read = read_survey(survey_with(more), tables());
    REQUIRE(read.faults.size() == 1);
    return read.faults[0].hint;
  };
  const auto layer = [&](const std::string& word) {
    const SurveyRead read = read_survey(
        R"({"format": "overjoist-survey", "version": 1, "sections": [{"name": "a", "kind": "flat",
"area_ft2": 9, "readings": [4],
      "layers": [{"material": ")" +
            word + "\"}]}]}",
        tables());
    REQUIRE(read.faults.size() == 1);
    const std::string& said = read.faults[0].hint;
    const std::size_t start = said.find("did you mean ");
    return start == std::string::npos ? std::string() : said.substr(13, said.find('?') - 13);
  };
  CHECK(layer("cellulose") == "\"cellulose-loose\"");
  CHECK(layer("Cellulose") == "\"cellulose-loose\"");
  CHECK(layer("loose cellulose") == "\"cellulose-loose\"");
  CHECK(layer("fibreglass") == "\"glass-fiber-batt\" or \"glass-fiber-loose\"");
  CHECK(layer("fiberglass batts") == "\"glass-fiber-batt\"");
  CHECK(layer("rockwool") == "\"rock-wool-batt\" or \"rock-wool-loose\"");
  CHECK(layer("mineral wool batt") == "\"rock-wool-batt\"");
  CHECK(layer("denim") == "\"cotton-batt\"");
  CHECK(layer("batt") ==
        "\"cotton-batt\" or \"glass-fiber-batt\" or \"hemp-batt\" or \"rock-wool-batt\"");
  CHECK(layer("drywall").empty());  // a board, which is no layer of insulation
  CHECK(layer("straw").empty());
  CHECK(
      hint(R"("proposal": {"material": "rockwool"}, )").find("did you mean \"rock-wool-loose\"?") ==
      0);
  CHECK(hint(R"("proposal": {"material": "vermiculit"}, )").find("did you mean") ==
        std::string::npos);  // never blown in
}

// Invariant: without any R between room and attic a bare spot has no R at all; the same films over
// a covered floor are fine.
TEST_CASE("survey: films and ceiling of R 0 are refused only where a spot may be bare") {
  const std::string none = R"("ceiling": 0, "films": {"inside_r": 0, "attic_r": 0}, )";
  const SurveyRead bare =
      read_survey(section_with(none + R"("readings": [4, "0 to 3"], )"), tables());
  REQUIRE(bare.faults.size() == 1);
  CHECK(bare.faults[0].pointer == "/sections/0/films");
  CHECK(bare.faults[0].line == 1);
  CHECK(read_survey(section_with(none + R"("readings": [4, 3], )"), tables()).survey);
}

// Invariant: a survey's own rows stand before the tables and are marked as its own.
TEST_CASE("survey: own materials are found first") {
  const Survey s = survey_of(
      text_of(std::filesystem::path(OVERJOIST_TESTS_DIR) / "surveys/good/own-material.json"));
  const Material* wool = s.material(tables(), "sheep-wool");
  REQUIRE(wool);
  CHECK(wool->status == "survey");
  CHECK(*wool->settling_low == 0.05);
  CHECK(wool->name == "sheep's wool");
  CHECK(s.sections[0].layers[0].condition == Condition::remove);
}

// Common practice: degree days with their base, a heat pump by its COP, bills, a plain rebate.
TEST_CASE("survey json: heating, cooling and money arrive as they are written") {
  const Survey s =
      survey_of(text_of(std::filesystem::path(OVERJOIST_TESTS_DIR) / "surveys/good/heating.json"));
  REQUIRE(s.heating);
  CHECK(s.heating->fuel == "electricity");
  CHECK(*s.heating->cop == 2.5);
  CHECK_FALSE(s.heating->efficiency);
  CHECK(*s.heating->hdd_f_day == 5200);
  CHECK(*s.heating->base_f == 62);
  CHECK(*s.heating->days_below_base == 240);
  CHECK(*s.heating->indoor_f == 69);
  CHECK(s.heating->bills->units_per_year == 9000);
  CHECK(*s.heating->bills->base_load_units == 5200);
  CHECK(*s.cooling->hours == 900);
  CHECK(*s.money->life_years == 25);
  CHECK(*s.money->real_discount_rate_percent == 2.5);
  CHECK(*s.money->real_price_rise_percent == 1);
  CHECK(*s.money->rebate->per_ft2 == 0.3);
  CHECK(*s.money->rebate->cap == 400);
  CHECK(*s.proposal->extras[0].part == CostPart::safety);
}
