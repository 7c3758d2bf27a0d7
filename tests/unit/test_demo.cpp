// SPDX-License-Identifier: MIT
// The demo survey, every number traced from the assumptions that the result prints, by arithmetic written out here
// and not taken from the program.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "overjoist/batch.hpp"

using namespace overjoist;

namespace {

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

const std::filesystem::path kExamples = OVERJOIST_EXAMPLES_DIR;

struct HandSpot {
  double share, depth;
};

// Ten readings of equal share; "3 to 5" is two half-weight readings. Printed assumptions: per inch, films 0.61 and
// 0.46, gypsum 0.45, wood 1.25 per inch, f = 1.5/16, settling 20 %, 2.0 lb/ft3, level step 1/4 in.
const std::vector<HandSpot> kSpots = {{.1, 0}, {.1, 2}, {.05, 3}, {.2, 4}, {.1, 4.5}, {.35, 5}, {.1, 6}};
constexpr double kEnds = 0.61 + 0.45 + 0.46, kRho = 3.5, kWood = 1.25, kJoist = 5.5, kF = 1.5 / 16, kSettling = 0.2, kDensity = 2.0;

double hand_working(double level) {
  double u = 0;
  for (const HandSpot& s : kSpots) u += s.share / (kEnds + kRho * (s.depth + (1 - kSettling) * std::max(0.0, level - s.depth)));
  return 1 / u - kEnds;
}

double hand_effective(double level) {
  double u = 0;
  for (const HandSpot& s : kSpots) {
    const double fill = s.depth + (1 - kSettling) * std::max(0.0, level - s.depth);
    const double joist = kEnds + kWood * std::min(fill, kJoist) + kRho * std::max(0.0, fill - kJoist);
    u += s.share * (kF / joist + (1 - kF) / (kEnds + kRho * fill));
  }
  return 1 / u;
}

/// Level by plain halving of the interval.
double hand_level(double target) {
  double lo = 0, hi = 100;
  for (int i = 0; i < 100; ++i) (hand_working((lo + hi) / 2) >= target ? hi : lo) = (lo + hi) / 2;
  return hi;
}

/// Pounds: wood stands in what lies below the joist tops.
double hand_mass(double level, double area) {
  double lb = 0;
  for (const HandSpot& s : kSpots) {
    const double t = (1 - kSettling) * std::max(0.0, level - s.depth);
    const double below = std::min(t, std::max(0.0, kJoist - s.depth));
    lb += area * s.share * kDensity / 12 * (t - kF * below);
  }
  return lb;
}

void near(double got, double want, double tolerance) {
  CHECK_MESSAGE(std::fabs(got - want) <= tolerance, "got " << got << ", want " << want);
}

constexpr double kNoise = 1e-9;  // exact arithmetic on both sides: rounding noise only

}  // namespace

// Hand derivation: written out with four digits. Sum of share/R over the bays: 0: .1/1.52 = .06579; 2: .1/8.52 = .01174;
// 3: .05/12.02 = .00416; 4: .2/15.52 = .01289; 4.5: .1/17.27 = .00579; 5: .35/19.02 = .01840; 6: .1/22.52 = .00444;
// together .12321, R 8.1165, less 1.52 = 6.60. Mean depth 3.95 in., yardstick 3.5 x 3.95 = 13.825.
TEST_CASE("demo: the floor as found follows from the printed assumptions") {
  const Outcome outcome = assess_text(text_of(kExamples / "demo.json"), builtin_tables());
  REQUIRE(outcome.evaluation);
  const ExistingResult& r = outcome.evaluation->sections[0].existing;
  near(r.mean_depth.us(), 3.95, kNoise);
  near(r.yardstick_r.us(), 13.825, kNoise);
  near(r.working_r.us(), 6.60, 0.005);  // half the last digit of the hand sum
  near(r.working_r.us(), hand_working(0), kNoise);
  near(r.effective_r.us(), hand_effective(0), kNoise);
  REQUIRE(r.weight);
  near(r.weight->us(), 3.95 * kDensity / 12, kNoise);
  near(r.weight_greatest->us(), 6 * kDensity / 12, kNoise);
  // The way down: uneven among covered spots, then the bare tenth; the ends are given above.
  double covered = 0;
  for (const HandSpot& s : kSpots) covered += s.depth > 0 ? s.share / (kEnds + kRho * s.depth) : 0;
  const double even = 0.9 * (0.9 / covered - kEnds);  // share x working R of the covered part
  for (const LossStep& step : r.steps) {
    if (step.code == "uneven") near(step.after.us(), even, kNoise);
    if (step.code == "bare") near(step.after.us(), hand_working(0), kNoise);
    if (step.code == "films-and-ceiling") near(step.after.us(), hand_working(0) + kEnds, kNoise);
    if (step.code == "framing") near(step.after.us(), hand_effective(0), kNoise);
  }
}

// Hand derivation: zone 6 asks R-49 and R-60 (reference table of the federal recommendation); level by halving, rounded up to a quarter
// inch; all else from the rounded level; bags of 25 lb after 5 % waste.
TEST_CASE("demo: levels, depths, pounds, bags and cost follow from the printed assumptions") {
  const Outcome outcome = assess_text(text_of(kExamples / "demo.json"), builtin_tables());
  REQUIRE(outcome.evaluation);
  const Evaluation& e = *outcome.evaluation;
  CHECK(e.target.zone == "6");
  const auto check_end = [&](const TopUpResult& t, const TotalsResult& totals, double target) {
    near(t.target_r.us(), target, 0);
    const double exact = hand_level(target), level = std::ceil(exact * 4) / 4;
    near(t.level_exact->us(), exact, 1e-7);  // the solver promises 1e-7 R
    near(t.initial_level->us(), level, 0);
    near(t.working_r.us(), hand_working(level), kNoise);
    near(t.effective_r.us(), hand_effective(level), kNoise);
    CHECK(hand_working(level - 0.25) < target);
    near(t.new_depth->least.us(), 0.8 * (level - 6), kNoise);
    near(t.new_depth->greatest.us(), 0.8 * level, kNoise);
    near(t.new_depth->mean.us(), 0.8 * (level - 3.95), kNoise);
    near(t.settled_level->us(), 3.95 + 0.8 * (level - 3.95), kNoise);
    near(t.weight_greatest->us(), (6 + 0.8 * (level - 6)) * kDensity / 12, kNoise);  // the deepest spot ends highest
    near(t.added_mass->us(), hand_mass(level, 1040), 1e-6);
    const double bags = std::ceil(hand_mass(level, 1040) * 1.05 / 25 - 1e-9);
    near(*totals.bags, bags, 0);
    near(*totals.material, bags * 15.8, 1e-9);
    near(*totals.labour, 1040 * 0.55, 1e-9);
    near(*totals.cost, bags * 15.8 + 1040 * 0.55 + 210, 1e-9);
  };
  check_end(e.sections[0].low, e.low, 49);
  check_end(e.sections[0].high, e.high, 60);
}

// Hand derivation: hatch of 5 ft2 with a bare plywood lid (0.61 + 0.63 + 0.46 = 1.70), later R-49 on it; the covers of the two lights
// are bare board, 1.52, before and after.
TEST_CASE("demo: the whole attic is a sum of U x area") {
  const Outcome outcome = assess_text(text_of(kExamples / "demo.json"), builtin_tables());
  REQUIRE(outcome.evaluation);
  const Evaluation& e = *outcome.evaluation;
  near(e.attic.area.us(), 1040 + 4 + 5, kNoise);
  const double before = 1040 / hand_effective(0) + 4 / 1.52 + 5 / 1.70;
  near(e.attic.existing.ua.us(), before, 1e-6);
  near(e.attic.existing.effective_r.us(), 1049 / before, 1e-8);
  const double level = std::ceil(hand_level(49) * 4) / 4;
  near(e.attic.low.ua.us(), 1040 / hand_effective(level) + 4 / 1.52 + 5 / (1.70 + 49), 1e-6);
  CHECK(e.cautions.front().level == CautionLevel::fix_first);  // blocked soffit and ceiling weight, no stop
}

// Invariant: the examples are what the README shows; each is read and computed.
TEST_CASE("examples: every survey evaluates") {
  const Tables tables = builtin_tables();
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(kExamples)) {
    if (entry.path().extension() != ".json") continue;
    ++count;
    const Outcome outcome = assess_text(text_of(entry.path()), tables);
    INFO(entry.path().filename().string());
    if (!outcome.evaluation) INFO(outcome.faults.front().pointer << " " << outcome.faults.front().message);
    CHECK(outcome.evaluation.has_value());
  }
  CHECK(count >= 10);
}

// Hand derivation: what each example was made to show.
TEST_CASE("examples: each shows what it is for") {
  const Tables tables = builtin_tables();
  const auto get = [&](const char* name) { return *assess_text(text_of(kExamples / name), tables).evaluation; };
  const auto raises = [&](const Evaluation& e, std::string_view code) {
    return std::any_of(e.cautions.begin(), e.cautions.end(), [&](const Caution& c) { return tables.cautions[c.row].code == code; });
  };
  CHECK(get("stop-hazards.json").stopped());
  CHECK(get("at-target.json").sections[0].high.status == TopUpStatus::met);
  CHECK(raises(get("squeezed-batts-deck.json"), "squeezed-batt"));
  CHECK(raises(get("squeezed-batts-deck.json"), "storage-deck"));
  CHECK(get("truss-attic.json").sections[1].low.limited_by == LimitedBy::headroom);
  CHECK(raises(get("truss-attic.json"), "truss-webs"));
  CHECK(get("coverage-chart.json").sections[0].low.bags.has_value());
  CHECK(raises(get("bare-strip-hatch.json"), "hatch-below-attic"));
  // 96 m2 = 1033.3 ft2; RSI 8.6 = R-48.83
  near(get("metric.json").sections[0].area.us(), 96 / 0.09290304, 1e-6);
  near(get("metric.json").target.low.us(), 8.6 * 5.678263341113, 1e-6);
}
