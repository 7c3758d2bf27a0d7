// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <map>

#include "fixtures.hpp"
#include "overjoist/report.hpp"
#include "survey_generator.hpp"

// What must hold for any survey, asked of several hundred made by chance (fixed seeds, so the same
// ones everywhere). Each is read from JSON text, as a user's file is, and its result is read back
// from the JSON that is written.
using namespace fixtures;
using survey_generator::Json;
using survey_generator::Maker;

namespace {

constexpr int kSurveys = 80;  // for each property, which has a seed of its own: 640 in all

Survey read(const Json& made) {
  SurveyRead got = read_survey(made.dump(), tables());
  std::string faults;
  write_faults_text(faults, "made", got.faults);
  REQUIRE_MESSAGE(got.survey, faults << made.dump(1));
  return *got.survey;
}

Json result_of(const Survey& survey) {
  std::string out;
  write_json(out, run(survey), tables(), {});
  return Json::parse(out);
}

Json result_of(const Json& made) { return result_of(read(made)); }

/// Calls `see(pointer, key, number)` for each number of a result.
void each_number(const Json& value,
                 const std::function<void(const std::string&, const std::string&, double)>& see,
                 const std::string& at = "", const std::string& key = "") {
  if (value.is_number()) see(at, key, value.get<double>());
  if (value.is_object())
    for (const auto& [name, inner] : value.items()) each_number(inner, see, at + '/' + name, name);
  if (value.is_array())
    for (std::size_t i = 0; i < value.size(); ++i)
      each_number(value[i], see, at + '/' + std::to_string(i), key);
}

/// First place where two results differ; "" where they have the same shape, the same words, and
/// every number within `tolerance` of the other's (of 1 where it is smaller). Texts for people may
/// round either way.
std::string difference(const Json& a, const Json& b, double tolerance) {
  if (a.is_number() && b.is_number()) {
    const double x = a.get<double>(), y = b.get<double>();
    return std::fabs(x - y) <= tolerance * std::max(1.0, std::fabs(x))
               ? ""
               : fmt::format(": {} and {}", x, y);
  }
  if (a.type() != b.type() || a.size() != b.size()) return ": " + a.dump() + " and " + b.dump();
  if (a.is_object()) {
    for (const auto& [name, inner] : a.items()) {
      if (!b.contains(name)) return '/' + name + " is missing";
      const bool for_people = name == "text" || name == "what" || name == "why";
      const std::string below = for_people ? "" : difference(inner, b[name], tolerance);
      if (!below.empty()) return '/' + name + below;
    }
  } else if (a.is_array()) {
    for (std::size_t i = 0; i < a.size(); ++i)
      if (const std::string below = difference(a[i], b[i], tolerance); !below.empty())
        return '/' + std::to_string(i) + below;
  } else if (a != b) {
    return ": " + a.dump() + " and " + b.dump();
  }
  return "";
}

template <class Check>
void for_each_survey(unsigned seed, Check check) {
  Maker maker(seed);
  for (int i = 0; i < kSurveys; ++i) {
    const Json made = maker.survey();
    CAPTURE(made.dump());
    check(made);
  }
}

const Json& section_named(const Json& result, const Json& name) {
  const Json& list = result["sections"];
  return *std::find_if(list.begin(), list.end(), [&](const Json& s) { return s["name"] == name; });
}

}  // namespace

// Invariant: a chance survey without a kind of section, proposal or list proves nothing of it, so
// each must come up.
TEST_CASE("properties: the surveys made by chance cover every kind") {
  std::map<std::string, int> seen;
  for_each_survey(1, [&](const Json& made) {
    for (const Json& s : made["sections"]) {
      ++seen[s["kind"].get<std::string>()];
      for (const char* key :
           {"eave", "headroom_in", "patches", "bypasses", "add", "continuous_r", "deck"})
        seen[key] += s.contains(key);
      for (const Json& l : s.value("layers", Json::array())) ++seen[l.value("condition", "sound")];
    }
    for (const char* key : {"heating", "cooling", "money", "winter", "claims", "rebate", "compare",
                            "hazards", "ventilation", "equipment"})
      seen[key] += made.contains(key);
    for (const char* key : {"batts", "product", "price_per_board_ft", "price_per_bag"})
      seen[key] += made["proposal"].contains(key);
  });
  CHECK(seen.size() == 8 + 7 + 5 + 10 + 4);
  for (const auto& kind : seen)
    CHECK_MESSAGE(kind.second >= 3, kind.first << " came up " << kind.second << " times");
}

// Invariant: a figure is a finite number, and only a difference, a saving, or what follows from one
// may be below 0: a hatch may be planned worse than it is. A row of the next-step table is a
// difference too, and a thinner product may be the better one.
TEST_CASE("properties: every number is finite, and none but a change or a saving is below 0") {
  const std::vector<std::string> signs = {
      "change_r", "annual_saving", "present_value",  "sir",       "sir_so_far",
      "saved",    "co2_lb",        "heat_saved_btu", "kwh_saved", "fuel_saved"};
  for_each_survey(2, [&](const Json& made) {
    const bool laid = made["proposal"].contains("batts");
    std::string faults;
    each_number(result_of(made), [&](const std::string& at, const std::string& key, double v) {
      const bool step =
          laid && at.find("/totals/steps/") == 0 && (key == "added_in" || key == "cost");
      const bool signed_ =
          step || (v < 0 && std::find(signs.begin(), signs.end(), key) != signs.end());
      if (!std::isfinite(v) || (v < 0 && !signed_)) faults += fmt::format("{} is {}\n", at, v);
    });
    CHECK(faults == "");
  });
}

// Invariant: half an inch more at every spot never lowers R as found. Held where more depth is more
// of the same stack: no wet or soiled layer (of no worth, it may push a good one thinner), no deck
// (its depth is full at the joist), no board (0 to 1/2 in. would cut it). By isothermal planes not
// with batts: what a batt has above the joist top lies beside open air, a plane of no R in that
// method.
TEST_CASE("properties: more depth at every spot never lowers the R as found") {
  int held = 0;
  const auto deeper = [](Json& reading) {
    Json& depth = reading.is_object() ? reading["depth"] : reading;
    if (depth.is_number()) depth = depth.get<double>() + 0.5;
  };
  for_each_survey(3, [&](const Json& made) {
    Json more = made;
    std::vector<std::string> names;
    for (Json& s : more["sections"]) {
      const bool spoiled = s.dump().find("wet") != std::string::npos ||
                           s.dump().find("soiled") != std::string::npos ||
                           s.dump().find("-board\"") != std::string::npos;
      if (!s.contains("readings") || !s.contains("layers") || s.contains("deck") || spoiled)
        continue;
      s.erase("headroom_in");
      for (Json& r : s["readings"]) deeper(r);
      names.push_back(s["name"]);
    }
    if (names.empty() || made["proposal"].contains("price_per_board_ft")) return;
    const Json before = result_of(made), after = result_of(more);
    for (const std::string& name : names) {
      const Json &was = section_named(before, name)["existing"],
                 &is = section_named(after, name)["existing"];
      std::vector<std::string> keys = {"working_r", "effective_r", "effective_r_parallel",
                                       "mean_depth_in"};
      const Json& layers = section_named(made, name)["layers"];
      if (layers.dump().find("-batt") == std::string::npos)
        keys.insert(keys.end(), {"effective_r_planes", "effective_r_mean"});
      for (const std::string& key : keys) {
        CAPTURE(key);
        CHECK(is[key].get<double>() >= was[key].get<double>() - kNoise);
      }
      ++held;
    }
  });
  CHECK(held >= 25);
}

// Invariant: more asked for never takes less: of bags or board feet. Not of packages: the next
// thicker product may take fewer of them.
TEST_CASE("properties: a higher target and more waste never take fewer bags") {
  for_each_survey(4, [&](const Json& made) {
    if (made["proposal"].contains("batts")) return;
    const auto taken = [](const Survey& survey) {
      const Evaluation e = run(survey);
      std::vector<double> all;
      for (const Totals* t : {&e.planned.low.totals, &e.planned.high.totals})
        all.push_back(t->bags.value_or(-1) + t->board_ft.value_or(0));
      return all;
    };
    Survey survey = read(made);
    const auto plain = taken(survey);
    CHECK(plain[1] >= plain[0]);
    Survey wasteful = survey, asking = survey;
    wasteful.proposal->waste_percent = survey.proposal->waste_percent.value_or(0) + 7;
    const TargetBand band = run(survey).target;
    asking.target.low = band.low + r_value(3);
    asking.target.high = band.high + r_value(3);
    const auto wasted = taken(wasteful), asked = taken(asking);
    for (std::size_t i = 0; i < 2; ++i) {
      CHECK(wasted[i] >= plain[i]);
      CHECK(asked[i] >= plain[i]);
    }
  });
}

// Invariant: the same attic measured in millimeters, square meters, kilograms and RSI. Factors
// round in the 16th digit and the level's solver stops within 1e-8 R, so 1e-6 of the value.
TEST_CASE("properties: a survey in SI gives the numbers of the same survey in US units") {
  for_each_survey(5, [](const Json& made) {
    const Json si = survey_generator::metric(made);
    REQUIRE(si.dump().find(" mm") != std::string::npos);
    CHECK(difference(result_of(made), result_of(si), 1e-6) == "");
  });
}

// Invariant: the order of readings changes no bit; the order of sections changes only the order of
// sums, 1e-9 of the value.
TEST_CASE("properties: sections and readings in any order give the same result") {
  std::mt19937 random(6);
  const auto shuffle = [&](Json& list) {  // not std::shuffle, whose way differs between libraries
    for (std::size_t i = list.size(); i > 1; --i) std::swap(list[i - 1], list[random() % i]);
  };
  for_each_survey(6, [&](const Json& made) {
    Json other = made;
    for (Json& s : other["sections"])
      if (s.contains("readings")) shuffle(s["readings"]);
    const Json first = result_of(made);
    CHECK(result_of(other).dump() == first.dump());
    shuffle(other["sections"]);
    const Json again = result_of(other);
    for (const Json& s : first["sections"])
      CHECK(section_named(again, s["name"]).dump() == s.dump());
    CHECK(difference(first["attic"], again["attic"], 1e-9) == "");
    CHECK(difference(first["totals"], again["totals"], 1e-9) == "");
    if (first.contains("compare"))
      for (std::size_t i = 0; i < first["compare"].size(); ++i)
        for (const char* end : {"low", "high"})
          CHECK(difference(first["compare"][i][end], again["compare"][i][end], 1e-9) == "");
  });
}

namespace {

/// Cells of RFC 4180 text, row by row.
std::vector<std::vector<std::string>> csv_rows(const std::string& text) {
  std::vector<std::vector<std::string>> rows(1, {""});
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"')
      rows.back().back() += text[++i];
    else if (c == '"')
      quoted = !quoted;
    else if (c == ',' && !quoted)
      rows.back().emplace_back();
    else if (c == '\n' && !quoted)
      rows.emplace_back(1, "");
    else if (c != '\r' || quoted)
      rows.back().back() += c;
  }
  rows.pop_back();  // after the last line end
  return rows;
}

/// Column of the CSV and where JSON has the same number.
using Shared = std::vector<std::pair<const char*, const char*>>;
const Shared kSurveyShared = {{"area_ft2", "/attic/area_ft2"},
                              {"target_low_r", "/target/low_r"},
                              {"target_high_r", "/target/high_r"},
                              {"ua_existing_btu_per_h_f", "/attic/existing/ua_btu_per_h_f"},
                              {"effective_r", "/attic/existing/effective_r"},
                              {"effective_r_at_least", "/attic/existing/effective_r_range/0"},
                              {"effective_r_at_most", "/attic/existing/effective_r_range/1"},
                              {"effective_r_low", "/attic/low/effective_r"},
                              {"effective_r_high", "/attic/high/effective_r"},
                              {"ua_low_btu_per_h_f", "/attic/low/ua_btu_per_h_f"},
                              {"ua_high_btu_per_h_f", "/attic/high/ua_btu_per_h_f"},
                              {"bags_low", "/totals/low/bags"},
                              {"bags_high", "/totals/high/bags"},
                              {"added_lb_low", "/totals/low/added_lb"},
                              {"added_lb_high", "/totals/high/added_lb"},
                              {"board_ft_low", "/totals/low/board_ft"},
                              {"board_ft_high", "/totals/high/board_ft"},
                              {"cost_low", "/totals/low/cost"},
                              {"cost_high", "/totals/high/cost"},
                              {"annual_saving_low", "/totals/low/measure/annual_saving"},
                              {"annual_saving_high", "/totals/high/measure/annual_saving"},
                              {"payback_low", "/totals/low/measure/payback_years"},
                              {"payback_high", "/totals/high/measure/payback_years"}};
const Shared kSectionShared = {{"area_ft2", "/area_ft2"},
                               {"mean_depth_in", "/existing/mean_depth_in"},
                               {"yardstick_r", "/existing/yardstick_r"},
                               {"working_r", "/existing/working_r"},
                               {"effective_r", "/existing/effective_r"},
                               {"initial_level_in_low", "/top_up/low/initial_level_in"},
                               {"new_depth_in_low", "/top_up/low/new_depth_in/mean"},
                               {"working_r_low", "/top_up/low/working_r"},
                               {"effective_r_low", "/top_up/low/effective_r"},
                               {"bags_low", "/top_up/low/bags"},
                               {"initial_level_in_high", "/top_up/high/initial_level_in"},
                               {"new_depth_in_high", "/top_up/high/new_depth_in/mean"},
                               {"working_r_high", "/top_up/high/working_r"},
                               {"effective_r_high", "/top_up/high/effective_r"},
                               {"bags_high", "/top_up/high/bags"},
                               {"weight_greatest_psf_high", "/top_up/high/weight_greatest_psf"}};

/// What differs between a row and the record, a line for each column.
std::string disagreement(const std::vector<std::string>& head, const std::vector<std::string>& row,
                         const Json& record, const Shared& shared) {
  if (row.size() != head.size()) return "another number of cells than the header";
  std::string faults;
  for (const auto& [column, pointer] : shared) {
    const auto at = std::find(head.begin(), head.end(), column);
    if (at == head.end()) return std::string(column) + " is no column";
    const std::string& cell = row[static_cast<std::size_t>(at - head.begin())];
    const Json::json_pointer place(pointer);
    const Json number = record.contains(place)
                            ? record.at(place)
                            : Json();  // a depth that is not there is null as a whole
    const bool loss = std::string_view(column).substr(0, 13) == "annual_saving" &&
                      number.is_number() && number.get<double>() < 0;  // no saving: no cell
    if (number.is_number() && !loss ? cell.empty() || std::stod(cell) != number.get<double>()
                                    : !cell.empty())
      faults += fmt::format("{}: CSV '{}', JSON {}\n", column, cell, number.dump());
  }
  return faults;
}

}  // namespace

// Invariant: both formats print a number in the shortest text that reads back the same, so they
// agree to the last bit.
TEST_CASE("properties: CSV and JSON hold the same numbers") {
  for_each_survey(7, [](const Json& made) {
    const Evaluation e = run(read(made));
    std::string json, surveys, sections;
    write_json(json, e, tables(), {});
    const CsvStyle by_section{true, false};
    write_csv_header(surveys, {});
    write_csv(surveys, e, tables(), {}, {});
    write_csv_header(sections, by_section);
    write_csv(sections, e, tables(), {}, by_section);
    const Json result = Json::parse(json);
    const auto whole = csv_rows(surveys), parts = csv_rows(sections);
    REQUIRE(whole.size() == 2);
    CHECK(disagreement(whole[0], whole[1], result, kSurveyShared) == "");
    REQUIRE(parts.size() == result["sections"].size() + 1);
    for (std::size_t i = 1; i < parts.size(); ++i) {
      Json section = result["sections"][i - 1];
      if (e.hands_off)
        section["top_up"] =
            Json();  // JSON says beside it that it is for once it is cleared; a cell cannot
      CHECK(disagreement(parts[0], parts[i], section, kSectionShared) == "");
    }
  });
}

// Invariant: one fault refuses a survey, whatever else it holds, and both formats then hold a whole
// record of it: its id, the fault's place, and as many cells as the header.
TEST_CASE("properties: a survey with one fault is refused in every format") {
  const std::vector<std::pair<const char*, Json>> faults = {
      {"/sections/0/area_ft2", -1},
      {"/sections/0/area_ft2", "thirty"},
      {"/sections/0/readings/0", -0.25},
      {"/sections/0/kind", "attic"},
      {"/sections/0/depth", 3},
      {"/proposal/waste_percent", 101},
      {"/proposal/material", "moon-dust"},
      {"/site/climate_zone", 9},
      {"/target/low_r", 0},
      {"/version", 2},
      {"/sections/0/ceiling", "no-such-board"}};
  std::size_t next = 0;
  for_each_survey(8, [&](const Json& made) {
    const auto& fault = faults[next++ % faults.size()];
    const std::string_view pointer = fault.first;
    Json broken = made;
    if (pointer == "/target/low_r") broken["target"] = Json::object();
    if (pointer == "/proposal/material") broken["proposal"] = Json::object();
    broken[Json::json_pointer(fault.first)] = fault.second;
    const SurveyRead got = read_survey(broken.dump(), tables());
    REQUIRE(!got.survey);
    REQUIRE(!got.faults.empty());
    CHECK(std::any_of(got.faults.begin(), got.faults.end(),
                      [&](const Diagnostic& d) { return d.pointer == pointer; }));
    std::string json, csv;
    write_rejected_json(json, got.id, got.faults, false);
    write_csv_header(csv, {});
    write_rejected_csv(csv, got.id, got.faults, {}, {});
    const Json record = Json::parse(json);
    const auto rows = csv_rows(csv);
    CHECK(record["status"] == "rejected");
    CHECK(record["id"] == made["id"]);
    CHECK(record["diagnostics"].size() == got.faults.size());
    REQUIRE(rows.size() == 2);
    CHECK(rows[1].size() == rows[0].size());
    CHECK(rows[1][0] == "rejected");
    CHECK(rows[1][1] == made["id"].get<std::string>());
  });
}
