// SPDX-License-Identifier: MIT
#include "fixtures.hpp"

#include <variant>

using namespace fixtures;

namespace {

constexpr double kFillK = 0.32, kWoodK = 0.8, kShare = 1.5 / 16, kTop = 5.5;
constexpr FramingMethod kMethods[] = {FramingMethod::parallel, FramingMethod::planes,
                                      FramingMethod::mean};

/// The built-in tables with a fill of k 0.32 under the name of loose cellulose, and a method.
Tables tables_of(FramingMethod method) {
  Tables all = tables();
  for (Material& m : all.materials)
    if (m.id == "cellulose-loose") {
      m.typical = m.low = m.high = r_per_inch(1 / kFillK);
      m.found_row = {};  // one fill, old and new
    }
  all.framing_method = method;
  return all;
}

/// One even floor between joists 1.5 by 5.5 in. of k 0.8 at 16 in.
Survey bay_survey(double depth, double target, Basis basis) {
  Section s = loose_section({depth});
  s.joists->wood = r_per_inch(1 / kWoodK);
  Survey survey = survey_of({s}, target, target);
  survey.target.basis = basis;
  return survey;
}

/// Closed forms of the study (tests/reference/SOURCES.md#joist-bay), ends 1.52.
double closed_form(FramingMethod method, double t) {
  const double h = std::min(kTop, t), over = std::max(0.0, t - kTop) / kFillK;
  const double upper =
      1 / (kShare / (kEnds + h / kWoodK + over) + (1 - kShare) / (kEnds + t / kFillK));
  const double planes = kEnds + 1 / (kShare * kWoodK / h + (1 - kShare) * kFillK / h) + over;
  return method == FramingMethod::parallel ? upper
         : method == FramingMethod::planes ? planes
                                           : (upper + planes) / 2;
}

struct Printed {
  double t, r[3];
};

}  // namespace

// Independent: tests/reference/SOURCES.md#joist-bay: columns PPtr, IP and C at films 0.61 and 0.46,
// four decimals, so 0.00005. All three stand beside each other whatever the method, and the working
// R knows no wood: 3.5/0.32 and so on.
TEST_CASE(
    "framing method: the effective R as found is the column of the method, all three are given, "
    "and working R stays") {
  constexpr Printed kRows[] = {{2.0, {7.1451, 6.9995, 7.0723}},
                               {3.5, {11.2802, 11.1090, 11.1946}},
                               {5.5, {16.7756, 16.5885, 16.6820}},
                               {15.5, {48.7682, 47.8385, 48.3034}}};
  for (const Printed& row : kRows)
    for (std::size_t m = 0; m < 3; ++m) {
      CAPTURE(row.t);
      CAPTURE(m);
      const Evaluation e = evaluate(bay_survey(row.t, 38, Basis::working), tables_of(kMethods[m]));
      const ExistingResult& r = e.sections[0].existing;
      CHECK(e.framing_method == kMethods[m]);
      near(r.effective_r.us(), row.r[m], 0.00005);
      near(r.effective_r_parallel.us(), row.r[0], 0.00005);
      near(r.effective_r_planes.us(), row.r[1], 0.00005);
      near(r.effective_r_mean.us(), row.r[2], 0.00005);
      near(r.working_r.us(), row.t / kFillK, kNoise);
      near(r.steps.back().after.us(), r.effective_r.us(), kNoise);
      near(e.attic.existing.effective_r.us(), r.effective_r.us(), kNoise);
      near(e.attic.existing.ua.us(), 1000 / r.effective_r.us(), kNoise);
    }
}

// Hand derivation: new fill of the same k on 3.5 in. is one fill of 3.5 + t, t settled, so the
// closed form holds after the blow too; at the exact level it is the target, within 1e-7 as the
// solver promises (1e-6 here, for the level's own rounding), and the rounded level is no lower.
TEST_CASE("framing method: the level for an effective target is solved with the method") {
  double last = 0;
  for (const FramingMethod method : kMethods) {
    CAPTURE(static_cast<int>(method));
    const Evaluation e = evaluate(bay_survey(3.5, 40, Basis::effective), tables_of(method));
    const TopUp& t = e.planned.high.sections[0];
    REQUIRE(t.level_exact);
    REQUIRE(t.new_depth);
    near(t.effective_r.us(), closed_form(method, 3.5 + t.new_depth->mean.us()), kNoise);
    const double settles = t.new_depth->mean.us() / (t.initial_level->us() - 3.5);
    near(closed_form(method, 3.5 + (t.level_exact->us() - 3.5) * settles), 40, 1e-6);
    CHECK(t.initial_level->us() >= t.level_exact->us());
    if (method == FramingMethod::planes)
      CHECK(t.level_exact->us() > last);  // the lower limit of R needs the most fill
    last = t.level_exact->us();
  }
}

// Hand derivation: the working R has no wood in it, so neither its level nor the bags depend on the
// method.
TEST_CASE("framing method: a working target takes the same level by any method") {
  const Evaluation usual =
      evaluate(bay_survey(3.5, 40, Basis::working), tables_of(FramingMethod::parallel));
  for (const FramingMethod method : kMethods) {
    const Evaluation e = evaluate(bay_survey(3.5, 40, Basis::working), tables_of(method));
    near(e.planned.high.sections[0].level_exact->us(),
         usual.planned.high.sections[0].level_exact->us(), kNoise);
    near(*e.planned.high.sections[0].bags, *usual.planned.high.sections[0].bags, kNoise);
  }
}

// Invariant: the slope that the solver uses is the derivative: central difference over 2e-4 in.,
// whose error is of second order, within 1e-5 R per inch. Levels below and above the joist top,
// open and under a deck, by R per inch and by a chart (between its rows, where it is linear).
TEST_CASE("framing method: the slope of R with the level is its derivative") {
  const CoverageChart chart(invented_rows(), Mass::from_us(25), 0);
  NewFill by_chart;
  by_chart.chart = &chart;
  for (const FramingMethod method : kMethods)
    for (const bool deck : {false, true})
      for (const NewFill& fill : {fill_of(3.5, 0.15, 1.6), by_chart}) {
        Framing wood = framing_of(kShare, kTop, 1 / kWoodK);
        wood.method = method;
        BaseFloor floor = floor_of({0.8, 2.0}, 1 / kFillK, kEnds, wood);
        floor.under_deck = deck;
        for (BaseSpot& spot : floor.spots)
          spot.planes = r_value(closed_form(FramingMethod::planes, spot.surface.us()));
        for (const double level : {4.0, 5.1, 9.0, 12.0}) {
          CAPTURE(level);
          CAPTURE(deck);
          const double step = 1e-4;
          const double up = floor_r(floor, fill, inches(level + step)).effective.us();
          const double down = floor_r(floor, fill, inches(level - step)).effective.us();
          near(floor_r(floor, fill, inches(level)).effective_slope.us(), (up - down) / (2 * step),
               1e-5);
        }
      }
}

// Invariant: the range's centre is the effective R, whatever the method; the row of assumptions
// names the method.
TEST_CASE("framing method: ranges stand about the chosen R and the assumptions name the method") {
  constexpr std::string_view kWords[] = {"the parallel path", "isothermal planes",
                                         "the ISO 6946 mean"};
  for (std::size_t m = 0; m < 3; ++m) {
    Survey survey = survey_of({loose_section({3, 5, 8, 12})});
    survey.sections[0].bare_share = 0.0;
    const Evaluation e = evaluate(survey, tables_of(kMethods[m]));
    const ExistingResult& r = e.sections[0].existing;
    REQUIRE(r.effective_r_range);
    CHECK(r.effective_r_range->low < r.effective_r);
    REQUIRE(r.effective_r_range->high);
    // With no range of material it is symmetric in U: the mean of both ends' U is the U of the
    // method.
    near((1 / r.effective_r_range->low.us() + 1 / r.effective_r_range->high->us()) / 2,
         1 / r.effective_r.us(), kNoise);
    std::string said;
    for (const Assumption& a : e.findings.assumptions)
      if (tables().assumptions[a.row].code == "framing-method")
        said = std::get<std::string>(a.values.front().value);
    CHECK(said == kWords[m]);
  }
}

// Hand derivation: 2x6 at 16 in., f = 1.5/16, R 3.5 per inch, films and gypsum 1.52. 4 in.:
// bay 15.52, joist 1.52 + 5 = 6.52, band 1/(f/5 + (1 - f)/14). 10 in.: bay 36.52, joist 1.52
// + 6.875 + 15.75, band 1/(f/6.875 + (1 - f)/19.25) and 15.75 above it. U of each spot by each
// method (method eq. 5), a quarter and three quarters of the area.
TEST_CASE("framing method: effective R by the three framing methods over two depths") {
  Section s = loose_section({4, 10});
  s.readings[0].share = 0.25;
  s.readings[1].share = 0.75;
  const double f = 1.5 / 16;
  const double upper[] = {1 / (f / 6.52 + (1 - f) / 15.52), 1 / (f / 24.145 + (1 - f) / 36.52)};
  const double lower[] = {1.52 + 1 / (f / 5 + (1 - f) / 14),
                          1.52 + 1 / (f / 6.875 + (1 - f) / 19.25) + 15.75};
  const auto mean = [](double a, double b) { return 1 / (0.25 / a + 0.75 / b); };
  const ExistingResult r = run(survey_of({s})).sections[0].existing;
  near(r.effective_r_parallel.us(), mean(upper[0], upper[1]), kNoise);
  near(r.effective_r_planes.us(), mean(lower[0], lower[1]), kNoise);
  near(r.effective_r_mean.us(), mean((upper[0] + lower[0]) / 2, (upper[1] + lower[1]) / 2), kNoise);
}
