// SPDX-License-Identifier: MIT
#include "overjoist/two_column.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

constexpr double kWoodK = 0.8;

/// A bay of wood 1.5 in. wide under one fill: film and ceiling below, film above.
struct Bay {
  double spacing, joist, k, fill;
  double coupling = 1.0;
};

std::vector<BaySlice> slices_of(const Bay& b) {
  const double below = std::min(b.joist, b.fill), over = b.fill - below;
  const Resistivity fill = r_per_inch(1 / b.k);
  return {{inches(below), r_per_inch(1 / kWoodK), fill}, {inches(over), fill, fill}};
}

double bay_r(const Bay& b) {
  const std::vector<BaySlice> slices = slices_of(b);
  return two_column_r({inches(1.5),
                       inches(b.spacing),
                       {r_value(1.06), r_value(0.46)},
                       slices,
                       inches(std::max(0.0, b.joist - b.fill)),
                       r_per_inch(1 / kWoodK),
                       b.coupling})
      .us();
}

/// Every bay of a small grid, joists covered or flush.
template <class Visit>
void each_covered(Visit visit) {
  for (const double spacing : {12.0, 16.0, 24.0})
    for (const double joist : {3.5, 7.25, 11.25})
      for (const double k : {0.23, 0.32, 0.45})
        for (const double cover : {0.0, 0.5, 4.0, 12.0})
          visit(Bay{spacing, joist, k, joist + cover});
}

SpotPaths paths_of(const Bay& b) {
  return paths_at({r_value(1.06), r_value(0.46)}, framing_of(1.5 / b.spacing, b.joist, 1 / kWoodK),
                  {loose_layer(1 / b.k)}, b.fill);
}

/// What flows and differs at a plane, for a flow of 1: q in the wood's column, theta = T1 - T2, and
/// T2 below the room's.
struct State {
  double q, theta, t2;
};

/// The equations of the method page written forward, with cosh and sinh.
State forward(State s, double l, double k1, double k2, double a, double b) {
  const double a1 = k1 * a, a2 = k2 * b, p = a1 / (a1 + a2), sum = 1 / a1 + 1 / a2;
  const double h = 1 / (a / (3 * k1) + b / (3 * k2)), m = std::sqrt(h * sum);
  const double y = s.q - p, mean = s.t2 + p * s.theta - l / (a1 + a2);
  const double theta = s.theta * std::cosh(m * l) - sum * y * std::sinh(m * l) / m;
  return {p + y * std::cosh(m * l) - h * s.theta * std::sinh(m * l) / m, theta, mean - p * theta};
}

/// What is missing at the upper film, and the drop to the attic, when q enters the wood's column.
std::array<double, 2> shoot(const Bay& bay, double q) {
  const double a = 0.75, b = bay.spacing / 2 - a, in = 1.06, out = 0.46;
  const double below = std::min(bay.joist, bay.fill), over = bay.fill - below;
  State s{q, -q * in / a + (1 - q) * in / b, -(1 - q) * in / b};
  s = forward(s, below, kWoodK, bay.k, a, b);
  if (over > 0) s = forward(s, over, bay.k, bay.k, a, b);
  return {s.theta - s.q * out / a + (1 - s.q) * out / b, -(s.t2 - (1 - s.q) * out / b)};
}

double forward_r(const Bay& bay) {
  const auto none = shoot(bay, 0), all = shoot(bay, 1);
  const double q = none[0] / (none[0] - all[0]);
  return (none[1] + q * (all[1] - none[1])) * bay.spacing / 2;
}

}  // namespace

// Independent: the same equations in their forward form with cosh and sinh, solved by two shots. On
// bays of moderate depth it keeps 1e-9; the product sweeps down, so that no depth costs digits.
TEST_CASE("two columns: the downward sweep equals the forward form on moderate bays") {
  each_covered([](const Bay& b) {
    CAPTURE(b.spacing);
    CAPTURE(b.fill);
    near(bay_r(b), forward_r(b), 1e-9 * bay_r(b));
  });
}

// Invariant: without heat sideways the two columns are the parallel path, and with all of it the
// isothermal planes; the method lies between both.
TEST_CASE("two columns: no coupling is the parallel path, full coupling the planes") {
  each_covered([](Bay b) {
    CAPTURE(b.spacing);
    CAPTURE(b.fill);
    const SpotPaths paths = paths_of(b);
    const double upper = 1 / parallel(framing_of(1.5 / b.spacing, b.joist), paths).us();
    const double lower = paths.planes.us(), r = bay_r(b);
    CHECK(r < upper);
    CHECK(r > lower);
    b.coupling = 0;
    near(bay_r(b), upper, kNoise);
    b.coupling = 1e12;
    near(bay_r(b), lower, 1e-5);  // falls with the root of the coupling
  });
}

// Invariant: R grows with the fill and stays finite where cosh has lost every digit. Hand
// derivation: deep in the fill no heat goes sideways, so each further inch adds 1/k.
TEST_CASE("two columns: 120 inches of fill in bays of 12 inches are finite and monotone") {
  double last = 0;
  for (double fill = 0; fill <= 120; fill += 0.5) {
    const double r = bay_r({12, 5.5, 0.27, fill});
    CHECK(r > last);
    last = r;
  }
  const double further = bay_r({12, 5.5, 0.27, 120}) - bay_r({12, 5.5, 0.27, 80});
  near(further, 40 / 0.27, 1e-9);
}

// Invariant: R has no step where the fill comes level with the joist top, from either side.
TEST_CASE("two columns: R does not step at the joist top") {
  const double flush = bay_r({16, 5.5, 0.32, 5.5});
  near(bay_r({16, 5.5, 0.32, 5.5 - 1e-7}), flush, 1e-5);
  near(bay_r({16, 5.5, 0.32, 5.5 + 1e-7}), flush, 1e-5);
}

// Hand derivation: wood of the fill's own R per inch is no joist: ends + inches/k.
TEST_CASE("two columns: wood that conducts as the fill does changes nothing") {
  const BaySlice even[] = {{inches(5), r_per_inch(3), r_per_inch(3)}};
  const TwoColumnBay bay{inches(1.5), inches(16), {r_value(1.06), r_value(0.46)}, even, {}, {}};
  near(two_column_r(bay).us(), 1.52 + 15, kNoise);
}

// Hand derivation: a slice that conducts without limit beside wood, no film resistance below: all
// heat goes up beside the wood, whose foot and sides are at the room's temperature, and out by the
// film: R is that of the film. A slice without R on both sides adds nothing.
TEST_CASE("two columns: a slice without R is the film alone") {
  const BaySlice wet[] = {{inches(4), r_per_inch(1.25), {}}, {inches(2), {}, {}}};
  const TwoColumnBay bay{inches(1.5), inches(16), {{}, r_value(0.5)}, wet, {}, {}};
  const double r = two_column_r(bay).us();
  CHECK(r > 0.5);
  CHECK(r < 0.5 / (1 - 1.5 / 16));  // the wood carries no heat at all
}

// Independent: tests/reference/SOURCES.md#joist-bay, fine-grid rows of two other solvers, films
// 0.61 and 0.46: within 1 %, proud, flush and covered.
TEST_CASE("two columns: fine-grid rows of other solvers within 1 percent") {
  const std::pair<Bay, double> rows[] = {
      {{16, 5.5, 0.32, 2.0}, 7.196},   {{16, 5.5, 0.32, 3.5}, 11.323},
      {{16, 9.25, 0.32, 3.5}, 11.323}, {{16, 5.5, 0.32, 5.5}, 16.707},
      {{16, 5.5, 0.32, 15.5}, 48.096}, {{24, 9.25, 0.27, 15.25}, 54.658},
      {{16, 3.5, 0.40, 13.5}, 34.621}};
  for (const auto& row : rows) {
    CAPTURE(row.first.fill);
    near(100 * (bay_r(row.first) / row.second - 1), 0, 1);
  }
}

// Hand derivation: an endless fin of height e has tanh 1, so G = sqrt(kw·a/Rout), an inch of
// length: bare board, no fill: R = (s/2)/(1/(in/a + 1/G) + b/(in + out)), the columns touch
// nowhere.
TEST_CASE("two columns: a joist without fill is a fin on the ceiling") {
  const double a = 0.75, b = 7.25, g = std::sqrt(kWoodK * a / 0.46);
  const TwoColumnBay bay{inches(1.5), inches(16),   {r_value(1.06), r_value(0.46)},
                         {},          inches(1000), r_per_inch(1 / kWoodK)};
  near(two_column_r(bay).us(), 8 / (1 / (1.06 / a + 1 / g) + b / 1.52), 1e-9);
}

// Symptom: a method that no other input fits would need paths of its own. Invariant: the slices of
// a column, found and blown on later, give what the same slices written out give; without wood it
// is the sum of the bay.
TEST_CASE("two columns: slices of a column, then of what is blown on it") {
  const PathEnds ends{r_value(1.06), r_value(0.46)};
  const Framing wood = framing_of(1.5 / 16, 5.5, 1 / kWoodK);
  const std::vector<BuiltLayer> found = {loose_layer(1 / 0.32)};
  const Column column = column_at(found, inches(4));
  const double proud = two_column_r(ends, wood, found, column, false).us();
  near(proud, bay_r({16, 5.5, 0.32, 4}), kNoise);
  BayStack stack = bay_stack(wood, found, column, false);
  stack.add_loose(wood, inches(6), r_value(6 / 0.32));
  CHECK(stack.count == 3);
  near(stack.surface.us(), 10, kNoise);
  near(two_column_r(ends, wood, stack).us(), bay_r({16, 5.5, 0.32, 10}), kNoise);
  near(two_column_r(ends, framing_of(0, 5.5), stack).us(), 1.52 + 10 / 0.32, kNoise);
}

// Hand derivation: 3.5 in. of fill of 3 per inch, 3.75 in. of gap of R 0.8 and a batt of R 19
// across: without wood 1.52 + 10.5 + 0.8 + 19; half of half an inch of gap has half its R; what is
// wet adds nothing; under a deck the gap closes too.
TEST_CASE("two columns: closed gaps have an R, wet layers none") {
  const PathEnds ends{r_value(1.06), r_value(0.46)};
  const Framing none = framing_of(0, 7.25);
  std::vector<BuiltLayer> layers = {loose_layer(3), batt_layer(19, 6.25, Lies::across)};
  const auto r_at = [&](double fill) {
    const Length depths[] = {inches(fill), inches(6.25)};
    return two_column_r(ends, none, layers, column_of(layers, depths), false).us();
  };
  near(r_at(3.5), 1.52 + 10.5 + kClosedGapR + 19, kNoise);
  near(r_at(7.0), 1.52 + 21 + kClosedGapR / 2 + 19, kNoise);
  near(r_at(9.0), 1.52 + 27 + 19, kNoise);
  layers.pop_back();
  const Column half = column_at(layers, inches(3.5));
  near(two_column_r(ends, none, layers, half, true).us(), 1.52 + 10.5 + kClosedGapR, kNoise);
  near(two_column_r(ends, none, layers, half, false).us(), 1.52 + 10.5, kNoise);
  layers[0].condition = Condition::wet;
  near(two_column_r(ends, none, layers, half, false).us(), 1.52, kNoise);
}

// Hand derivation: a batt across adds nearly its own R to both columns: more than between planes
// and parallel path of what lies below it would say for the parallel path's sum. Invariant: a batt
// cut between the joists leaves the slot over them open, so it is worth less than one across them.
TEST_CASE("two columns: what is cut between gives the joist nothing above its top") {
  const PathEnds ends{r_value(1.06), r_value(0.46)};
  const Framing wood = framing_of(1.5 / 16, 3.5, 1 / kWoodK);
  const auto r_of = [&](const std::vector<BuiltLayer>& layers) {
    return two_column_r(ends, wood, layers, column_at(layers, inches(6.25)), false).us();
  };
  const double cut = r_of({batt_layer(19, 6.25)}), loose = r_of({loose_layer(19 / 6.25)});
  CHECK(cut < loose - 1);
  CHECK(cut > paths_at(ends, wood, {batt_layer(19, 6.25)}, 6.25).planes.us());
}

// Symptom: a survey with a film of R 0 above, which is allowed, was refused; cause: the film was
// divided by. Invariant: R goes on smoothly to a film of 0, with a joist below, at and above the
// surface; a film of 1e-9 moves it by no more than the film itself and what a fin takes, 1e-4.
TEST_CASE("two columns: a film of R 0 above is the limit of thin films") {
  const auto r_of = [](double film, double proud) {
    const BaySlice fill[] = {{inches(4), r_per_inch(1.25), r_per_inch(3.5)}};
    return two_column_r({inches(1.5),
                         inches(16),
                         {r_value(1.06), r_value(film)},
                         fill,
                         inches(proud),
                         r_per_inch(1.25)})
        .us();
  };
  for (const double proud : {0.0, 1.5}) {
    CAPTURE(proud);
    fixtures::near(r_of(0.0, proud), r_of(1e-9, proud), 1e-4);
    CHECK(r_of(0.0, proud) < r_of(0.46, proud));
  }
  fixtures::near(two_column_r({inches(1.5), inches(16), {}, {}, {}, r_per_inch(1.25)}).us(), 0, 0);
}

// Invariant: the header's ranges; each fault is named, never a number.
TEST_CASE("two columns: sizes out of range are refused by name") {
  const TwoColumnBay good{inches(1.5), inches(16), {r_value(1), r_value(0.46)},
                          {},          inches(1),  r_per_inch(1.25)};
  CHECK(two_column_r(good).us() > 1);
  const auto refused = [&](auto change, const char* words) {
    TwoColumnBay bay = good;
    change(bay);
    CHECK_THROWS_WITH_AS(two_column_r(bay), doctest::Contains(words), Error);
  };
  refused([](TwoColumnBay& b) { b.width = {}; }, "joist width");
  refused([](TwoColumnBay& b) { b.spacing = inches(1.5); }, "spacing");
  refused([](TwoColumnBay& b) { b.ends.above = r_value(-1); }, "above the fill");
  refused([](TwoColumnBay& b) { b.ends.below = r_value(-1); }, "below the fill");
  refused([](TwoColumnBay& b) { b.proud = inches(-1); }, "height above");
  refused([](TwoColumnBay& b) { b.wood = {}; }, "R per inch of wood");
  refused([](TwoColumnBay& b) { b.coupling = -1; }, "coupling");
  refused([](TwoColumnBay& b) { b.width = inches(std::numeric_limits<double>::quiet_NaN()); },
          "joist width");
  const BaySlice bad[] = {{inches(1), r_per_inch(1), r_per_inch(-1)}};
  refused([&](TwoColumnBay& b) { b.slices = bad; }, "R per inch of");
}
