// SPDX-License-Identifier: MIT
// The demo survey, every number traced from the assumptions that the result prints, by arithmetic
// written out here and not taken from the program.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "overjoist/batch.hpp"
#include "overjoist/goods.hpp"
#include "overjoist/leakage.hpp"

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

// Ten readings of equal share; "3 to 5" is two half-weight readings. Printed assumptions: R-3.5 per
// inch, films 0.61 and 0.46, gypsum 0.45, wood 1.25 per inch, f = 1.5/16, settling 20 %, 2.0
// lb/ft3, level step 1/4 in.
const std::vector<HandSpot> kSpots = {{.1, 0},   {.1, 2},  {.05, 3}, {.2, 4},
                                      {.1, 4.5}, {.35, 5}, {.1, 6}};
constexpr double kEnds = 0.61 + 0.45 + 0.46, kRho = 3.5, kWood = 1.25, kJoist = 5.5, kF = 1.5 / 16,
                 kSettling = 0.2, kDensity = 2.0;

double hand_working(double level) {
  double u = 0;
  for (const HandSpot& s : kSpots)
    u += s.share / (kEnds + kRho * (s.depth + (1 - kSettling) * std::max(0.0, level - s.depth)));
  return 1 / u - kEnds;
}

double hand_effective(double level) {
  double u = 0;
  for (const HandSpot& s : kSpots) {
    const double fill = s.depth + (1 - kSettling) * std::max(0.0, level - s.depth);
    const double joist =
        kEnds + kWood * std::min(fill, kJoist) + kRho * std::max(0.0, fill - kJoist);
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

// Hand derivation: written out with four digits. Sum of share/R over the bays: 0: .1/1.52 = .06579;
// 2: .1/8.52 = .01174; 3: .05/12.02 = .00416; 4: .2/15.52 = .01289; 4.5: .1/17.27 = .00579; 5:
// .35/19.02 = .01840; 6: .1/22.52 = .00444; together .12321, R 8.1165, less 1.52 = 6.60. Mean
// depth 3.95 in., yardstick 3.5 x 3.95 = 13.825.
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

// Hand derivation: zone 6 asks R-49 and R-60 (reference table of the federal recommendation); level
// by halving, rounded up to a quarter inch; all else from the rounded level; bags of 25 lb after 5
// % waste.
TEST_CASE("demo: levels, depths, pounds, bags and cost follow from the printed assumptions") {
  const Outcome outcome = assess_text(text_of(kExamples / "demo.json"), builtin_tables());
  REQUIRE(outcome.evaluation);
  const Evaluation& e = *outcome.evaluation;
  CHECK(e.target.zone == "6");
  const auto check_end = [&](const TopUp& t, const Totals& totals, double target) {
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
    near(t.weight_greatest->us(), (6 + 0.8 * (level - 6)) * kDensity / 12,
         kNoise);  // the deepest spot ends highest
    near(t.added_mass->us(), hand_mass(level, 1040), 1e-6);
    const double bags = std::ceil(hand_mass(level, 1040) * 1.05 / 25 - 1e-9);
    near(*totals.bags, bags, 0);
    near(*totals.material, bags * 15.8, 1e-9);
    near(*totals.labour, 1040 * 0.55, 1e-9);
    near(*totals.cost, bags * 15.8 + 1040 * 0.55 + 210 + 60 + 120, 1e-9);
  };
  check_end(e.planned.low.sections[0], e.planned.low.totals, 49);
  check_end(e.planned.high.sections[0], e.planned.high.totals, 60);
}

// Hand derivation: hatch of 5 ft2 with a bare plywood lid (0.61 + 0.63 + 0.46 = 1.70), later R-49
// on it; the covers of the two lights are bare board, 1.52, before and after.
TEST_CASE("demo: the whole attic is a sum of U x area") {
  const Outcome outcome = assess_text(text_of(kExamples / "demo.json"), builtin_tables());
  REQUIRE(outcome.evaluation);
  const Evaluation& e = *outcome.evaluation;
  near(e.attic.area.us(), 1040 + 4 + 5, kNoise);
  const double before = 1040 / hand_effective(0) + 4 / 1.52 + 5 / 1.70;
  near(e.attic.existing.ua.us(), before, 1e-6);
  near(e.attic.existing.effective_r.us(), 1049 / before, 1e-8);
  const double level = std::ceil(hand_level(49) * 4) / 4;
  near(e.planned.low.attic.ua.us(), 1040 / hand_effective(level) + 4 / 1.52 + 5 / (1.70 + 49),
       1e-6);
  CHECK(e.findings.cautions.front().level ==
        CautionLevel::fix_first);  // blocked soffit and ceiling weight, no stop
}

namespace {

// The demo's year: 7600 F day at base 65 F, 290 days below it, rooms at 68 F: 24 x (7600 + 3 x 290)
// = 203,280 F h; gas at 0.8 and 1.25 a therm: 203,280 / 0.8 / 100,000 x 1.25 = 3.17625 a year for
// each Btu/(h F). UPV(3 %, 30) = (1 - 1.03^-30)/0.03.
constexpr double kDegreeHours = 203280, kYearPerUa = 3.17625;
double hand_upv() { return (1 - std::pow(1.03, -30)) / 0.03; }

double hand_ua(double level) {
  return 1040 / hand_effective(level) + 4 / 1.52 + 5 / (1.70 + (level > 0 ? 49 : 0));
}
// The attic's air at 5,800 ft (method eq. 13c): 1,049 ft2 under 5 in 12 are 1136.42 ft2 of roof,
// over 1.9: 598.11; sqrt(1049/1.5) = 26.4449 ft wide, half the rise 2.754678 ft: 2889.66 ft3; 3/60
// of it 144.483 cfm, times 1.08 and the pressure of the standard atmosphere: 125.996; S = 724.10.
double hand_attic() {
  const double half_rise = std::sqrt(1049 / 1.5) / 2 * 5 / 12 / 2;
  return 1049 * 13.0 / 12 / 1.9 + 3 * 1049 * half_rise / 60 * air_heat_factor(5800);
}
/// To outdoors, through the air of the attic.
double hand_out(double level) {
  const double ua = hand_ua(level), s = hand_attic();
  return ua * s / (ua + s);
}
double quarter_level(double target) { return std::ceil(hand_level(target) * 4) / 4; }
double hand_bags(double level) { return hand_mass(level, 1040) * 1.05 / 25; }

}  // namespace

// Hand derivation: with the levels and bags above. The measure is bags, labor and the 210 of
// extras; the package adds 60 for covers and 120 for sealing goods; the rebate of 0.3 a ft2 would
// be 312 and is capped at 300. Written out for the low end: the UA falls from 141.2 to 23.7,
// through the attic from 118.2 to 23.0, so some 302 a year; the measure costs 74 x 15.8 + 572 + 210
// = 1951.2 and pays back in 6.45 years; 302.4 x 19.6004 / 1951.2 is a SIR of 3.04.
TEST_CASE("demo: the yearly saving, payback and SIR follow from the printed terms") {
  const Evaluation e = *assess_text(text_of(kExamples / "demo.json"), builtin_tables()).evaluation;
  near(hand_upv(), 19.6004, 0.00005);  // half the last digit of the published factor
  const auto check_end = [&](const Totals& t, double target) {
    const double level = quarter_level(target), fall = hand_out(0) - hand_out(level),
                 saving = kYearPerUa * fall;
    REQUIRE(t.year);
    near(t.year->heat.us(), kDegreeHours * fall, 1);  // Btu of some 24 million: rounding noise
    near(t.year->fuel.units, kDegreeHours * fall / 80000, 1e-6);
    near(*t.year->fuel.co2_lb, kDegreeHours * fall / 80000 * 11.7, 1e-5);
    near(*t.measure.annual_saving, saving, 1e-6);
    const double cost = std::ceil(hand_bags(level) - 1e-9) * 15.8 + 572 + 210;
    near(*t.measure.cost, cost, 1e-9);
    near(*t.measure.payback, cost / saving, 1e-6);
    near(*t.measure.payback_after_rebate, (cost - 300) / saving, 1e-6);
    near(*t.measure.present_value, saving * hand_upv(), 1e-4);
    near(*t.measure.sir, saving * hand_upv() / cost, 1e-6);
    near(*t.package.sir, saving * hand_upv() / (cost + 60 + 120), 1e-6);
  };
  check_end(e.planned.low.totals, 49);
  check_end(e.planned.high.totals, 60);
  near(*e.planned.low.totals.measure.annual_saving, 302, 0.5);
  near(*e.planned.low.totals.measure.payback, 6.45, 0.05);
  near(*e.planned.low.totals.measure.sir, 3.04, 0.005);
}

// Hand derivation: four levels, for R-49, their mean 54.5, R-60 and 71; each row the difference to
// the row before it, in whole bags. The first carries 572 + 210 whatever the depth; its rebate is
// the cap, and no later step changes it.
TEST_CASE("demo: the next-step table is traced row by row") {
  const Evaluation e = *assess_text(text_of(kExamples / "demo.json"), builtin_tables()).evaluation;
  REQUIRE(e.steps.size() == 5);
  double bags = 0, ua = hand_out(0), depth = 0;
  const double targets[] = {49, 54.5, 60, 71};
  for (std::size_t i = 0; i < 4; ++i) {
    const StepResult& s = e.steps[i + 1];
    CAPTURE(targets[i]);
    const double level = quarter_level(targets[i]), saving = kYearPerUa * (ua - hand_out(level));
    const double bought = std::ceil(hand_bags(level) - 1e-9),
                 cost = (bought - bags) * 15.8 + (i == 0 ? 782 : 0), mean = 0.8 * (level - 3.95);
    near(s.target_r->us(), targets[i], 0);
    near(s.effective_r.us(), 1049 / hand_ua(level), 1e-8);
    near(s.added.us(), mean - depth, kNoise);
    near(*s.bags, bought - bags, 1e-8);
    near(*s.cost, cost, 1e-6);
    near(*s.fixed_cost, i == 0 ? 782 : 0, 0);
    near(*s.rebate, i == 0 ? 300 : 0, 0);
    near(*s.annual_saving, saving, 1e-6);
    near(*s.payback, cost / saving, 1e-4);
    near(*s.sir, saving * hand_upv() / cost, 1e-6);
    bags = bought;
    ua = hand_out(level);
    depth = mean;
  }
  CHECK(e.last_worthwhile == "low");
  CHECK(*e.steps[2].sir < 1);
}

// Hand derivation: bags as above. Bead of 1/4 in. 12 pi/4 (1/4)^2 = 0.58905 in3 a foot, of 1/2
// in. 2.35619. Foam: rim of the shaft 2(3 + 14/12) = 8.3333, stack 2 and six holes 3 make 13.3333
// ft of 1/2 in., 31.416 in3; both sides of 48 ft of plates are 96 ft of 1/4 in., 56.549; 87.965
// with 15 % is 101.2 of the 288 in3 of a can. Caulk: two covers 10 and three boxes 3 ft of 1/4
// in., 7.658, with 15 % 8.81 of 18.2 in3. Chimney: two beads along 10 ft, 11.781, with 15 % 13.55
// of 18.2; metal 0.33 x 10. Board: shaft 3.5, stack 1, hatch 5, with 15 % 10.925 of 32 ft2.
// Weatherstrip 2(2.5 + 2) and 10 %. Baffles 80 x 12/24. Markers 1040/300. A dam at the hatch, a
// metal one at the chimney, two covers, three flags. How the lid comes to R-49 the survey does not
// say.
TEST_CASE("demo: the shopping list is traced line by line") {
  const Evaluation e = *assess_text(text_of(kExamples / "demo.json"), builtin_tables()).evaluation;
  struct Line {
    std::string_view what;
    std::optional<double> n;
  };
  const Line lines[] = {{"one-part foam", 1},
                        {"caulk", 1},
                        {"high-temperature non-combustible sealant", 1},
                        {"rigid board, 4 x 8 ft", 1},
                        {"sheet metal", 3.3},
                        {"weatherstrip", 9.9},
                        {"baffles", 40},
                        {"dams", 1},
                        {"metal dams for flues and chimneys", 1},
                        {"fire-rated light covers", 2},
                        {"depth markers", 4},
                        {"flags for buried junction boxes", 3},
                        {"insulation on the lid, to the planned R", {}}};
  const std::vector<Good> goods = goods_list(e, builtin_tables());
  REQUIRE(goods.size() == 14);
  near(*goods[0].low, std::ceil(hand_bags(quarter_level(49)) - 1e-9), 0);
  near(*goods[0].high, std::ceil(hand_bags(quarter_level(60)) - 1e-9), 0);
  for (std::size_t i = 0; i < 13; ++i) {
    const Good& good = goods[i + 1];
    CAPTURE(good.what);
    CHECK(good.what == lines[i].what);
    REQUIRE(good.low.has_value() == lines[i].n.has_value());
    if (!lines[i].n) continue;
    near(*good.low, *lines[i].n, kNoise);
    near(*good.high, *lines[i].n, kNoise);
  }
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
    if (!outcome.evaluation)
      INFO(outcome.faults.front().pointer << " " << outcome.faults.front().message);
    CHECK(outcome.evaluation.has_value());
  }
  CHECK(count >= 10);
}

// Hand derivation: what each example was made to show.
TEST_CASE("examples: each shows what it is for") {
  const Tables tables = builtin_tables();
  const auto get = [&](const char* name) {
    return *assess_text(text_of(kExamples / name), tables).evaluation;
  };
  const auto raises = [&](const Evaluation& e, std::string_view code) {
    return std::any_of(e.findings.cautions.begin(), e.findings.cautions.end(),
                       [&](const Caution& c) { return tables.cautions[c.row].code == code; });
  };
  CHECK(get("stop-hazards.json").stopped());
  CHECK(get("at-target.json").planned.high.sections[0].status == TopUpStatus::met);
  CHECK(raises(get("squeezed-batts-deck.json"), "squeezed-batt"));
  CHECK(raises(get("squeezed-batts-deck.json"), "storage-deck"));
  CHECK(get("truss-attic.json").planned.low.sections[1].limited_by == LimitedBy::headroom);
  CHECK(raises(get("truss-attic.json"), "truss-webs"));
  CHECK(get("coverage-chart.json").planned.low.sections[0].bags.has_value());
  CHECK(raises(get("bare-strip-hatch.json"), "hatch-below-attic"));
  // 96 m2 = 1033.3 ft2; RSI 8.6 = R-48.83
  near(get("metric.json").sections[0].area.us(), 96 / 0.09290304, 1e-6);
  near(get("metric.json").target.low.us(), 8.6 * 5.678263341113, 1e-6);
}
