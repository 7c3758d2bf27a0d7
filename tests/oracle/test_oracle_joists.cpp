// SPDX-License-Identifier: MIT
#include <array>

#include "joist_bay.hpp"

using namespace oracle;
using fixtures::near;

namespace {

constexpr double kCovers[] = {-2, 0, 2, 6, 10};

/// Least and greatest percent above the two-dimensional figure, for parallel, planes, mean and the
/// whole joist.
struct Span {
  double low = 1e9, high = -1e9;
  void add(double value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
};
using Spans = std::array<Span, 4>;

/// The 30 bays of one cover: spacings 16 and 24, five joists, three k.
template <class Visit>
void each_bay(double cover, Visit visit) {
  for (const double spacing : {16.0, 24.0})
    for (const double joist : {3.5, 5.5, 7.25, 9.25, 11.25})
      for (const double k : {0.27, 0.32, 0.40})
        if (joist + cover >= 1.0) visit(Bay{spacing, joist, k, joist + cover});
}

Spans spans_at(double cover, double attic) {
  Spans all;
  each_bay(cover, [&](const Bay& b) {
    const double two_d = bay_2d(b, attic);
    const CoreR r = core_r(b, attic);
    const double values[] = {r.parallel, r.planes, r.mean, r.whole};
    for (std::size_t m = 0; m < 4; ++m) all[m].add(off(values[m], two_d));
  });
  return all;
}

/// Printed least and greatest, one decimal: 0.05, and 0.04 for the two meshes where the print is
/// another solver's.
void check_printed(const Spans& got, const double (&printed)[4][2], double tolerance) {
  for (std::size_t m = 0; m < 4; ++m) {
    CAPTURE(m);
    near(got[m].low, printed[m][0], tolerance);
    near(got[m].high, printed[m][1], tolerance);
  }
}

struct FineRow {
  Bay bay;
  double attic, two_d;
};

// tests/reference/SOURCES.md#joist-bay, fine-grid rows: five with films 0.61 on both sides, seven
// with 0.61 and 0.46.
constexpr FineRow kFine[] = {
    {{16, 5.5, 0.32, 3.5}, 0.61, 11.462},    {{16, 5.5, 0.32, 5.5}, 0.61, 16.868},
    {{16, 5.5, 0.32, 15.5}, 0.61, 48.245},   {{24, 9.25, 0.27, 15.25}, 0.61, 54.807},
    {{16, 3.5, 0.40, 13.5}, 0.61, 34.770},   {{16, 5.5, 0.32, 2.0}, 0.46, 7.196},
    {{16, 5.5, 0.32, 3.5}, 0.46, 11.323},    {{16, 9.25, 0.32, 3.5}, 0.46, 11.323},
    {{16, 5.5, 0.32, 5.5}, 0.46, 16.707},    {{16, 5.5, 0.32, 15.5}, 0.46, 48.096},
    {{24, 9.25, 0.27, 15.25}, 0.46, 54.658}, {{16, 3.5, 0.40, 13.5}, 0.46, 34.621}};

}  // namespace

// Independent: tests/reference/SOURCES.md#joist-bay, fine-grid rows of two other solvers; 0.03 %.
// Refinement, smallest cell 0.32, 0.16, 0.08, 0.04, 0.02 in., some 300, 700, 1,400, 2,600 and 4,400
// cells: exposed row 16/5.5/3.5 with films 0.61 is 0.112, 0.045, 0.022, 0.011, 0.007 % high;
// covered row 16/5.5/15.5 0.014, 0.005, 0.002, 0.001, 0.001 %. The mesh of these tests is the
// fourth. Worst of the 150, 1.5 in. between joists of 3.5 in., against its limit: 6.4774 at
// 0.04, 6.4768 at 0.02 and 6.4765 at 0.01 in., so 0.015 %.
TEST_CASE("oracle: joist bays equal the fine-grid rows of other solvers within 0.03 percent") {
  for (const FineRow& row : kFine) {
    CAPTURE(row.bay.fill);
    CAPTURE(row.attic);
    near(off(bay_2d(row.bay, row.attic), row.two_d), 0, 0.03);
  }
}

// Invariant: a finer mesh lets more heat round the corner of an exposed joist: R falls, by less
// with each halving (first order at that corner).
TEST_CASE("oracle: halving the cells moves an exposed bay less each time") {
  const Bay b = {16, 5.5, 0.32, 3.5};
  const double coarse = bay_2d(b, kAttic, 0.24), middle = bay_2d(b, kAttic, 0.12),
               fine = bay_2d(b, kAttic, 0.06);
  CHECK(coarse > middle);
  CHECK(middle > fine);
  CHECK(coarse - middle > middle - fine);
}

// Independent: the study's own table of errors, films 0.61 and 0.61, one decimal (reference
// table 5.4); its mesh spreads less than 0.2 % of R in exposed rows, and ours 0.03 %: 0.05 for the
// print and 0.03.
TEST_CASE("oracle: 150 joist bays stand from the core's figures as in the earlier study") {
  constexpr double kPrinted[5][4][2] = {{{-0.7, 0.1}, {-3.9, -0.4}, {-2.2, -0.2}, {1.7, 7.2}},
                                        {{0.1, 0.7}, {-1.6, -0.2}, {-0.4, 0.0}, {0.1, 0.7}},
                                        {{0.5, 2.2}, {-1.9, -0.3}, {-0.1, 0.5}, {0.5, 2.2}},
                                        {{0.4, 3.0}, {-1.2, -0.2}, {0.1, 1.1}, {0.4, 3.0}},
                                        {{0.4, 3.0}, {-0.8, -0.2}, {0.1, 1.2}, {0.4, 3.0}}};
  for (std::size_t c = 0; c < 5; ++c) {
    CAPTURE(kCovers[c]);
    check_printed(spans_at(kCovers[c], 0.61), kPrinted[c], 0.08);
  }
}

// Independent: the oracle at the product's films, 0.61 and 0.46. The figures are those of the
// method page's table (one decimal, 0.05 and the mesh's 0.03); what they must obey: the planes
// below, parallel above where the joist is covered, and no more than 1 % low where it stands proud.
TEST_CASE("oracle: 150 joist bays at the product's films stand as the method page prints") {
  constexpr double kPrinted[5][4][2] = {{{-0.9, 0.0}, {-4.1, -0.4}, {-2.5, -0.3}, {1.7, 7.2}},
                                        {{0.1, 0.7}, {-1.5, -0.2}, {-0.4, 0.0}, {0.1, 0.7}},
                                        {{0.5, 2.2}, {-1.9, -0.3}, {-0.1, 0.5}, {0.5, 2.2}},
                                        {{0.4, 3.0}, {-1.2, -0.2}, {0.1, 1.1}, {0.4, 3.0}},
                                        {{0.4, 3.0}, {-0.8, -0.2}, {0.1, 1.2}, {0.4, 3.0}}};
  for (std::size_t c = 0; c < 5; ++c) {
    CAPTURE(kCovers[c]);
    const Spans got = spans_at(kCovers[c], kAttic);
    check_printed(got, kPrinted[c], 0.08);
    CHECK(got[1].high < 0);
    CHECK(got[0].low > (kCovers[c] < 0 ? -1 : 0));
  }
}

// Independent: the oracle. None of the three standard rules is within 1 % in all 150 cases; the
// mixture of the method page is: R = w R' + (1 - w) R'', w = 1 up to the joist top, falling to 0.4
// over the first 2 in. of cover. Covers between and beyond those of the study are held to 1 % as
// well.
TEST_CASE(
    "oracle: only the mixed rule is within 1 percent of the two-dimensional figure in every bay") {
  Spans worst;
  Span mixed;
  for (const double cover : {-2.0, -1.0, 0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 10.0, 14.0})
    each_bay(cover, [&](const Bay& b) {
      const double two_d = bay_2d(b), w = 1 - 0.6 * std::clamp(cover / 2, 0.0, 1.0);
      const CoreR r = core_r(b);
      const double values[] = {r.parallel, r.planes, r.mean, r.whole};
      for (std::size_t m = 0; m < 4; ++m) worst[m].add(std::fabs(off(values[m], two_d)));
      mixed.add(off(w * r.parallel + (1 - w) * r.planes, two_d));
    });
  for (const Span& one : worst) CHECK(one.high > 1);
  CHECK(mixed.low > -1);
  CHECK(mixed.high < 1);
}
