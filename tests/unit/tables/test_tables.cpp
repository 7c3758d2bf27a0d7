// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "overjoist/survey_json.hpp"

using namespace overjoist;  // a test names many of the library's words

namespace {

std::string table_of(const std::string& rows) {
  return R"({"table": "materials", "version": "7", "rows": [)" + rows + "]}";
}

}  // namespace

// Invariant: look-ups by binary search need sorted rows; every code that a material raises is a
// caution.
TEST_CASE("tables: the embedded tables are read, sorted and refer to each other") {
  const Tables t = builtin_tables();
  CHECK(t.stamps.size() == 10);
  CHECK(std::is_sorted(t.materials.begin(), t.materials.end(),
                       [](const auto& a, const auto& b) { return a.id < b.id; }));
  CHECK(std::is_sorted(t.assumptions.begin(), t.assumptions.end(),
                       [](const auto& a, const auto& b) { return a.code < b.code; }));
  for (const Material& m : t.materials) {
    CAPTURE(m.id);
    CHECK(t.material(m.id) == &m);
    CHECK((m.central() || m.resistance));
    for (const std::string& id : m.sources) CHECK(t.source(id) != nullptr);
    CHECK((m.caution.empty() || t.cautions[t.caution(m.caution)].code == m.caution));
  }
  CHECK(std::any_of(t.materials.begin(), t.materials.end(),
                    [](const Material& m) { return !m.caution.empty(); }));
  for (const CeilingLimit& limit : t.limits) CHECK(t.material(limit.board) != nullptr);
}

// Invariant: a word for people is no id and no brand would be; what stops or holds up the work has
// a few words for lists.
TEST_CASE("tables: materials have words that people use, and grave cautions a short form") {
  const Tables t = builtin_tables();
  for (const Material& m : t.materials)
    for (const std::string& word : m.also) CHECK_MESSAGE(t.material(word) == nullptr, word);
  const std::vector<std::string>& words = t.material("cotton-batt")->also;
  CHECK(std::find(words.begin(), words.end(), "denim") != words.end());
  for (const CautionRow& row : t.cautions) {
    CAPTURE(row.code);
    const bool grave = row.level <= CautionLevel::fix_first;
    CHECK((!grave || (!row.brief.empty() && row.brief.size() <= 48)));
  }
  CHECK(t.cautions.front().level == CautionLevel::stop);  // the table holds grave ones
}

// Source: data/bypasses.json: code reprint (1 ft2 of vents for 150), NIST list of leakage elements
// (hatch 30 and 18 cm2, ceiling-wall joint 1.5 and 0.5 cm2 a meter). Invariant: look-ups need
// sorted rows; every source that a row names exists.
TEST_CASE("tables: air leaks and figures arrive in their units, sorted, with known sources") {
  const Tables t = builtin_tables();
  CHECK(t.bypasses.size() == 18);
  CHECK(std::is_sorted(t.bypasses.begin(), t.bypasses.end(),
                       [](const auto& a, const auto& b) { return a.id < b.id; }));
  CHECK(std::is_sorted(t.figures.begin(), t.figures.end(),
                       [](const auto& a, const auto& b) { return a.id < b.id; }));
  CHECK(t.figure("vent-ratio") == 150);
  const BypassRow* hatch = t.bypass("hatch");
  REQUIRE(hatch);
  CHECK(hatch->sealant == Sealant::weatherstrip);
  CHECK(hatch->opening_length->us() == 30);
  REQUIRE(hatch->leak);
  CHECK(hatch->leak->typical_cm2 == 30);
  CHECK(hatch->leak->tight_cm2 == 18);
  CHECK(t.bypass("top-plate")->unit == BypassUnit::ft);
  CHECK(t.bypass("top-plate")->leak->tight_cm2 == 0.5);
  CHECK(t.bypass("flue")->metal_per_unit_high.us() == 4);
  CHECK_FALSE(t.bypass("open-chase")->leak);
  for (const BypassRow& row : t.bypasses)
    for (const std::string& id : row.sources) CHECK_MESSAGE(t.source(id) != nullptr, id);
  for (const FigureRow& row : t.figures)
    for (const std::string& id : row.sources) CHECK_MESSAGE(t.source(id) != nullptr, id);
}

// Source: ASHRAE 90.1 A2.4 (films), California JA4 table 4.5.2 (softwood), IECC R301.3 (zone 5:
// 5400 to 7200 F day), state university extension note (cellulose 3.2 to 3.8 per inch, middle 3.5;
// settling about 20 %).
TEST_CASE("tables: figures arrive in their units") {
  const Tables t = builtin_tables();
  CHECK(t.film_inside.us() == 0.61);
  CHECK(t.film_attic.us() == 0.46);
  CHECK(t.wood.us() == 1.25);
  CHECK(t.default_low.us() == 38);
  CHECK(t.default_high.us() == 49);
  const Material* cellulose = t.material("cellulose-loose");
  REQUIRE(cellulose);
  CHECK(cellulose->form == Form::loose);
  CHECK(cellulose->central()->us() == 3.5);
  CHECK(*cellulose->settling_high == 0.2);
  CHECK_FALSE(cellulose->existing_only);
  CHECK(t.material("vermiculite")->existing_only);
  const auto five =
      std::find_if(t.zones.begin(), t.zones.end(), [](const ZoneRule& z) { return z.zone == 5; });
  REQUIRE(five != t.zones.end());
  CHECK(*five->hdd65_above == 5400);
  CHECK(*five->hdd65_upto == 7200);
  CHECK(t.cautions[t.caution("vermiculite")].level == CautionLevel::stop);
}

// Source: tests/reference/SOURCES.md#fuels and #money: heat contents, a CO2 factor, the default
// life.
TEST_CASE("tables: fuels and money defaults are embedded and sorted") {
  const Tables t = builtin_tables();
  REQUIRE(t.fuel("natural-gas"));
  CHECK(t.fuel("natural-gas")->btu_per_unit == 100000);
  CHECK(*t.fuel("natural-gas")->co2_lb_per_unit == 11.7);
  CHECK(t.fuel("electricity")->btu_per_unit == 3412);
  CHECK_FALSE(t.fuel("electricity")->co2_lb_per_unit);
  CHECK(t.fuel("coal") == nullptr);
  CHECK(t.money_default("life-years") == 30);
  CHECK(t.money_default("step-beyond-r") == 11);
  for (const Fuel& f : t.fuels)
    for (const std::string& id : f.sources) CHECK(t.source(id) != nullptr);
}

// Common practice: a user's row replaces the built-in one of the same id, others are added, and the
// table is named.
TEST_CASE("tables: a user's table replaces and extends rows") {
  Tables t = builtin_tables();
  const std::size_t before = t.materials.size();
  const Diagnostics faults = add_materials(
      t,
      table_of(
          R"({"id": "cellulose-loose", "form": "loose", "r_per_inch": 3.7, "source": ["house test 3"]},
    {"id": "a-first-row", "also": ["first"], "form": "batt", "r_per_inch": "25 m K/W", "use": "existing"})"),
      "mine.json");
  CHECK(faults.empty());
  CHECK(t.materials.size() == before + 1);
  CHECK(t.material("cellulose-loose")->central()->us() == 3.7);
  CHECK(t.material("cellulose-loose")->name == "cellulose-loose");
  CHECK(t.material("a-first-row")->existing_only);
  CHECK(t.material("a-first-row")->also == std::vector<std::string>{"first"});
  REQUIRE(t.source("house test 3"));
  CHECK(t.stamps.back().name == "mine.json");
  CHECK(t.stamps.back().version == "7");
  CHECK(t.stamps.back().hash != builtin_tables().stamps.front().hash);
}

// Invariant: on any fault nothing is changed, and each fault has its place.
TEST_CASE("tables: a faulty user's table changes nothing") {
  Tables t = builtin_tables();
  const std::size_t before = t.materials.size();
  const Diagnostics faults =
      add_materials(t, table_of(R"({"id": "Straw", "form": "loose", "r_per_inch": 2},
{"id": "hay", "form": "heap", "r_per_inch": 2}, {"id": "reed", "form": "loose"}, {"id": "moss",
"form": "loose", "r_per_inch": 200})"),
                    "mine.json");
  REQUIRE(faults.size() == 4);
  CHECK(faults[0].pointer == "/rows/0/id");
  CHECK(faults[1].pointer == "/rows/1/form");
  CHECK(faults[1].line == 2);
  CHECK(faults[1].column == 23);
  CHECK(faults[2].message == "the material has no R");
  CHECK(faults[3].pointer == "/rows/3/r_per_inch");
  CHECK(t.materials.size() == before);
  CHECK(t.stamps.size() == 10);
  CHECK_FALSE(
      add_materials(
          t, R"({"table": "limits", "rows": [{"id": "hay", "form": "loose", "r_per_inch": 2}]})",
          "x")
          .empty());
  CHECK_FALSE(
      add_materials(
          t, table_of(R"({"id": "hay", "form": "loose", "r_per_inch": 2, "caution": "no-such"})"),
          "x")
          .empty());
  CHECK_FALSE(
      add_materials(
          t,
          table_of(
              R"({"id": "hay", "form": "loose", "r_per_inch": 2}, {"id": "hay", "form": "loose",
"r_per_inch": 2})"),
          "x")
          .empty());
}
