// SPDX-License-Identifier: MIT
// Two loose layers, each of its own depth at each spot, as a core probe tells them.
#include <doctest/doctest.h>

#include <string>

#include "fixtures.hpp"
#include "overjoist/batch.hpp"

using namespace fixtures;

namespace {

std::string two_loose(const std::string& readings, const std::string& first = "") {
  return R"({"format": "overjoist-survey", "version": 1, "sections": [{"name": "a", "kind": "flat",
"area_ft2": 100, "below": "heated", "ceiling": "gypsum-1/2", "joists": {"size": "2x6",
"spacing_in": 16}, "layers": [{"material": "rock-wool-loose")" +
         first + R"(}, {"material": "cellulose-loose"}], "readings": )" + readings + "}]}";
}

}  // namespace

// Symptom: two loose layers were refused though every reading told the depth of both; cause: the
// rule that one layer takes the rest was asked before the readings. Hand derivation: rock wool that
// lies there at R-2.8, cellulose at R-3.5 per inch: 2 and 4 in. are 19.6, 3 and 5 in. 25.9; bays in
// parallel.
TEST_CASE("core probe: two loose layers with both depths in each reading are taken") {
  const Outcome out =
      assess_text(two_loose(R"([{"depths": [2, 4]}, {"depths": [3, 5]}])"), tables());
  REQUIRE(out.evaluation);
  const double u = 0.5 / (kEnds + 19.6) + 0.5 / (kEnds + 25.9);
  near(out.evaluation->sections[0].existing.working_r.us(), 1 / u - kEnds, kNoise);
  near(out.evaluation->sections[0].existing.mean_depth.us(), 7, kNoise);
}

// Invariant: shares of the readings weigh both layers; the same in millimeters gives the same.
TEST_CASE("core probe: shares and metric depths") {
  const std::string us =
      R"([{"depths": [2, 4], "share": 0.25}, {"depths": [3, 5], "share": 0.75}])";
  const std::string si = R"([{"depths": ["50.8 mm", "101.6 mm"], "share": 0.25},
{"depths": ["76.2 mm", "127 mm"], "share": 0.75}])";
  const Outcome a = assess_text(two_loose(us), tables()), b = assess_text(two_loose(si), tables());
  REQUIRE(a.evaluation);
  REQUIRE(b.evaluation);
  const double u = 0.25 / (kEnds + 19.6) + 0.75 / (kEnds + 25.9);
  near(a.evaluation->sections[0].existing.working_r.us(), 1 / u - kEnds, kNoise);
  near(b.evaluation->sections[0].existing.working_r.us(), 1 / u - kEnds, 1e-6);
}

// Invariant: where one reading has only a total, nobody knows how it is shared out: refused. With
// the thickness of one layer the other takes the rest, 6 - 2 in.
TEST_CASE("core probe: a total depth still asks for the thickness of all but one") {
  const std::string mixed = R"([{"depths": [2, 4]}, 8])";
  CHECK_FALSE(assess_text(two_loose(mixed), tables()).evaluation);
  CHECK_FALSE(assess_text(two_loose("[6]"), tables()).evaluation);
  const Outcome one = assess_text(two_loose("[6]", R"(, "thickness_in": 2)"), tables());
  REQUIRE(one.evaluation);
  near(one.evaluation->sections[0].existing.working_r.us(), 19.6, kNoise);
}
