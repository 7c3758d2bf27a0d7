// SPDX-License-Identifier: MIT
#include "overjoist/record_json.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

std::filesystem::path records() { return std::filesystem::path(OVERJOIST_TESTS_DIR) / "records"; }

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<std::filesystem::path> files_in(const char* folder) {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(records() / folder))
    if (entry.path().extension() == ".json") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  REQUIRE_FALSE(paths.empty());
  return paths;
}

const Survey& survey() {
  static const SurveyRead kRead = read_survey(text_of(records() / "survey.json"), tables());
  REQUIRE(kRead.survey);
  return *kRead.survey;
}

Record good(const char* name) {
  RecordRead read = read_record(text_of(records() / "good" / name), tables(), &survey());
  for (const Diagnostic& d : read.faults) FAIL_CHECK(d.pointer << ": " << d.message);
  REQUIRE(read.record);
  return *read.record;
}

/// Lines `pointer|line:column|part of message|part of hint`.
void check_expected(const Diagnostics& faults, const std::string& expected) {
  std::istringstream lines(expected);
  std::size_t n = 0;
  for (std::string line; std::getline(lines, line); ++n) {
    REQUIRE(n < faults.size());
    std::istringstream parts(line);
    std::string pointer, place, message, hint;
    std::getline(parts, pointer, '|');
    std::getline(parts, place, '|');
    std::getline(parts, message, '|');
    std::getline(parts, hint);
    CHECK(faults[n].pointer == pointer);
    CHECK(std::to_string(faults[n].line) + ':' + std::to_string(faults[n].column) == place);
    CHECK(faults[n].message.find(message) != std::string::npos);
    CHECK(faults[n].hint.find(hint) != std::string::npos);
  }
  CHECK(n == faults.size());
}

}  // namespace

// Common practice: one fault a file, or all of a file; its .expect names pointer, place and words,
// written down beside the text by eye.
TEST_CASE("record: every bad file is refused with its place, what is allowed and what to do") {
  for (const auto& path : files_in("bad")) {
    CAPTURE(path.filename().string());
    const RecordRead read = read_record(text_of(path), tables(), &survey());
    CHECK_FALSE(read.record.has_value());
    check_expected(read.faults, text_of(std::filesystem::path(path).replace_extension(".expect")));
  }
}

// Invariant: these files are valid by the schema too (schema_check.py); with a survey and without.
TEST_CASE("record: every good file gives a record") {
  for (const auto& path : files_in("good")) {
    CAPTURE(path.filename().string());
    CHECK(read_record(text_of(path), tables(), &survey()).record.has_value());
    CHECK(read_record(text_of(path), tables()).record.has_value());
  }
}

// Hand derivation: 84 m2 = 84/0.09290304 = 904.1685 ft2; 13.6 kg = 13.6/0.45359237 = 29.9829
// lb; 39.6 cm = 39.6/2.54 = 15.5906 in.; 54 bags for 1000 ft2 is 18.5185 ft2 a bag.
TEST_CASE("record: values arrive in the structs in US units") {
  const Record r = good("all-keys.json");
  CHECK(r.id == "J-9");
  CHECK(r.survey == "R-1");
  CHECK(r.date == "2026-05-06");
  CHECK(r.installer.name == "Tarn Insulating (invented)");
  CHECK(*r.sold == End::low);
  CHECK(r.maker == "Fellside Works (invented)");
  REQUIRE(r.product);
  near(r.product->chart[1].initial->us(), 15.5906, 5e-5);
  near(r.product->chart[1].coverage->us(), 18.5185, 5e-5);
  near(r.bag_net->us(), 29.9829, 5e-5);
  CHECK(*r.waste_percent == 3);
  CHECK(*r.bags == 60);
  CHECK(*r.depths_are == DepthKind::initial);
  REQUIRE(r.sections.size() == 3);
  near(r.sections[0].area->us(), 904.1685, 5e-5);
  REQUIRE(r.sections[0].depths.size() == 2);
  CHECK(r.sections[0].depths[0].depth.us() == 14.5);
  CHECK(r.sections[0].depths[0].share == 0.5);
  CHECK(r.sections[0].depths[1].depth_to.us() == 15);
  CHECK(*r.sections[1].done);
  CHECK(r.sections[2].insulation_r->us() == 30);
  CHECK_FALSE(*r.sections[2].latched);
  CHECK(r.tag->initial->us() == 12);
  CHECK(*r.counts.flags == 2);
  CHECK(r.sealed[1].where.empty());
  CHECK(r.cleared[0].trade == "licensed electrician");
  CHECK(r.changes.size() == 1);
  CHECK(r.papers[1] == "bag-photos");
  REQUIRE(r.extras.size() == 1);
  CHECK(r.extras[0].second == "[1, {\"a\": null}]");
}

// Invariant: what the record does not name is as proposed; another material takes product and chart
// of the proposal away.
TEST_CASE("record: what was used is the proposal, changed by what the record names") {
  Survey s = with_chart(survey_of({loose_section({4})}));
  s.proposal->material = "cellulose-loose";
  Record r;
  CHECK(used_proposal(s, r)->product->name == "invented fill");
  r.material = "cellulose-loose";
  CHECK(used_proposal(s, r)->product.has_value());
  r.material = "glass-fiber-loose";
  CHECK_FALSE(used_proposal(s, r)->product.has_value());
  r.product = Product{"another", invented_rows(), false};
  r.bag_net = Mass::from_us(30);
  CHECK(used_proposal(s, r)->product->name == "another");
  CHECK(used_proposal(s, r)->bag_net->us() == 30);
  s.proposal.reset();
  CHECK_FALSE(used_proposal(s, Record{}).has_value());
}
