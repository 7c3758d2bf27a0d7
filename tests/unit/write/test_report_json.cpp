// SPDX-License-Identifier: MIT
#include "overjoist/report.hpp"

#include <doctest/doctest.h>

#include "report_fixture.hpp"

using namespace report_fixture;  // and with it the library's words

namespace {

std::string json_of(const Evaluation& e, Units units = Units::us, bool pretty = false) {
  std::string out;
  write_json(out, e, small_tables(), {units, pretty});
  return out;
}

}  // namespace

// Invariant: the keys of the result format and their order, which scripts rely on.
TEST_CASE("report json: the top level holds the promised keys in order, the user's own last") {
  const std::string out = json_of(one_floor());
  CHECK(out.rfind(
            R"({"format":"overjoist-evaluation","version":1,"id":"oak-12","label":"12 Oak Street",)"
            R"("status":"done",)",
            0) == 0);
  std::size_t last = 0;
  for (const char* key :
       {"\"target\":{", "\"attic\":{", "\"sections\":[", "\"heating\":null", "\"money\":null",
        "\"totals\":{", "\"cautions\":[", "\"assumptions\":[", "\"sources\":[", "\"tables\":["}) {
    const std::size_t at = out.find(key);
    CAPTURE(key);
    REQUIRE(at != std::string::npos);
    CHECK(at > last);
    last = at;
  }
  CHECK(has(
      out,
      R"("tables":[{"name":"materials","version":"1","hash":"0123abcd"}],"x_job":{"crew": 2}})"));
}

// Invariant: each key of a section as the result format names it; numbers are those of the fixture,
// not rounded.
TEST_CASE("report json: a section carries what stands there and both ends of the band") {
  const std::string out = json_of(one_floor());
  CHECK(has(
      out,
      R"("name":"attic floor","kind":"flat","area_ft2":1000,"below":"heated",)"
      R"("existing":{"mean_depth_in":4.25,)"
      R"("yardstick_r":14.87,"working_r":12.34,"working_r_range":null,"effective_r":13.21,)"
      R"("effective_r_range":null,)"
      R"("effective_r_parallel":13.21,"effective_r_planes":12.8,"effective_r_mean":13,)"
      R"("effective_r_two_column":13.05,)"
      R"("weight_psf":0.56,"weight_greatest_psf":0.79,)"
      R"("readings_needed":null,"readings_more":null,"verdict":null,"steps":[{"step":"yardstick",)"
      R"("change_r":0,"r_after":14.87},)"));
  CHECK(has(
      out,
      R"("top_up":{"low":{"target_r":38,"basis":"working","status":"needed","limited_by":null,)"
      R"("reached":true,"initial_level_in":13.25,)"
      R"("level_exact_in":13.15,"confident_level_in":null,"settled_level_in":11.75,)"
      R"("initial_depth_in":{"least":6.25,"mean":8.25,"greatest":10.25},)"
      R"("new_depth_in":{"least":5.25,"mean":7.25,"greatest":9.25},"working_r":38.12,"working_r_range":null,)"
      R"("effective_r":38.55,"effective_r_range":null,"effective_r_two_column":38.5,)"
      R"("bags":42,"bags_exact":41.75,"added_weight_psf":1.05,)"
      R"("weight_psf":1.61,"weight_greatest_psf":1.84,"weight_is_at_least":false,)"
      R"("weight_limit_psf":2.2,"within_weight_limit":null,"eave":null,"batts":[],)"
      R"("overshoot_r":null,"board_ft_exact":null,"confident_level_too_heavy":false})"));
}

// Invariant: what is not known or not given is null.
TEST_CASE("report json: a price or figure that is missing is null, not 0") {
  const std::string out = json_of(many_sections());
  CHECK(has(
      out,
      R"("cost":null,"cost_by":{"material":null,"labour":null,"extras":null,"tax":null},"currency":"USD")"));
  CHECK(
      has(out,
          R"("measure":{"annual_saving":null,"payback_years":null,"present_value":null,"sir":null,)"
          R"("cost":null,)"));
  CHECK(has(
      out,
      R"("energy_by_fuel":null,"co2_lb":null,"heat_saved_btu":null,"scaled_to_bills":null,"cooling":null)"));
  CHECK(has(out, R"("status":"unreachable","limited_by":"deck")"));
  CHECK(
      has(out, R"("removals":[{"material":"cellulose, loose","area_ft2":60,"volume_ft3":18.2}])"));
  CHECK(has(
      out,
      R"("patches":[{"kind":"light-cover","where":"by the bath","area_ft2":4.5,"total_r":2.1}])"));
}

// Invariant: a range is a pair, its upper end null where there is no upper limit.
TEST_CASE("report json: a range without upper limit ends in null") {
  Evaluation e = one_floor();
  e.sections[0].existing.working_r_range = ResistanceRange{r_value(11), std::nullopt};
  e.attic.existing.effective_r_range = ResistanceRange{r_value(12), r_value(14.5)};
  const std::string out = json_of(e);
  CHECK(has(out, R"("working_r_range":[11,null])"));
  CHECK(has(out, R"("effective_r_range":[12,14.5])"));
}

// Invariant: words and the numbers beside them are in one unit; result keys stay US.
TEST_CASE("report json: units change the words of cautions and assumptions only") {
  const std::string us = json_of(stopped_floor());
  CHECK(has(us, R"("code":"ceiling-weight","level":"fix-first","where":"attic floor",)"
                R"("text":"The ceiling would carry 2.4 lb/ft2,)"));
  CHECK(has(
      us,
      R"({"what":"levels are rounded up","value":0.25,"why":"A crew reads quarters off a ruler."})"));
  CHECK(has(us, R"({"what":"joists: 2x6 at 16 in.","value":"2x6 at 16 in.","why":"Not given.",)"
                R"("where":"attic floor"})"));
  CHECK(has(us, R"("what":"target: R-38 to R-49","value":null)"));
  const std::string si = json_of(stopped_floor(), Units::si);
  CHECK(has(si, "would carry 11.8 kg/m2"));  // 2.4 x 4.8824 = 11.72, up
  CHECK(has(si, R"("what":"levels are rounded up","value":0.635,)"));
  CHECK(has(si, R"("mean_depth_in":4.25)"));
}

// Invariant: a cleared caution stays in the record with who cleared it.
TEST_CASE("report json: a cleared caution names person, date and paper") {
  const std::string out = json_of(stopped_floor());
  CHECK(has(out,
            R"("clears":"written release","cleared_by":"A. Reader","cleared_date":"2026-02-03",)"
            R"("cleared_paper":"release 7"})"));
  CHECK(count_of(out, "cleared_by") == 1);
}

// Hand derivation: the fault as given; hint, line and column null where there are none.
TEST_CASE("report json: a refused survey is a record with its faults") {
  std::string out;
  write_rejected_json(out, "",
                      {{"/sections/0", 3, 5, "no area", "give area_ft2"}, {"", 0, 0, "empty", ""}},
                      false, {"a.json", 0});
  CHECK(
      out ==
      R"({"format":"overjoist-evaluation","version":1,"id":null,"status":"rejected",)"
      R"("file":"a.json","diagnostics":[)"
      R"({"pointer":"/sections/0","line":3,"column":5,"message":"no area","hint":"give area_ft2"},)"
      R"({"pointer":"","line":null,"column":null,"message":"empty","hint":null}]})");
}
