// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "conduction2d.hpp"

using namespace oracle;

namespace {

/// ISO 10211 case 1 on n x 2n cells: half a square column 1 wide and 2 high, hot face on top. The
/// exact series is symmetric about x = 1.
Grid half_column(std::size_t n) {
  Grid m(std::vector<double>(n, 1.0 / double(n)), std::vector<double>(2 * n, 1.0 / double(n)));
  for (std::size_t i = 0; i < n; ++i) {
    m.fix(m.at(i, 2 * n - 1), 2, 20);
    m.fix(m.at(i, 0), 2, 0);
  }
  for (std::size_t j = 0; j < 2 * n; ++j) m.fix(m.at(0, j), 2, 0);
  return m;
}

/// At a corner of four cells (two at the plane of symmetry) the mean of those cells.
double corner(const Grid& m, const std::vector<double>& t, std::size_t i, std::size_t j) {
  const double left = t[m.at(i - 1, j - 1)] + t[m.at(i - 1, j)];
  if (i == m.dx.size()) return left / 2;
  return (left + t[m.at(i, j - 1)] + t[m.at(i, j)]) / 4;
}

// Rows from the hot face down, at W/8, 2W/8, 3W/8 and W/2.
constexpr double kColumn[7][4] = {{9.658, 13.379, 14.729, 15.085}, {5.252, 8.641, 10.316, 10.811},
                                  {3.189, 5.609, 7.014, 7.465},    {2.014, 3.641, 4.658, 5.000},
                                  {1.262, 2.309, 2.986, 3.219},    {0.740, 1.359, 1.767, 1.908},
                                  {0.342, 0.630, 0.820, 0.886}};

/// Greatest distance from the 28 values on n x 2n cells.
double column_error(std::size_t n) {
  const Grid m = half_column(n);
  const std::vector<double> t = solve(m);
  double worst = 0;
  for (std::size_t row = 0; row < 7; ++row)
    for (std::size_t c = 0; c < 4; ++c)
      worst = std::max(
          worst, std::fabs(corner(m, t, (c + 1) * n / 4, 2 * n * (7 - row) / 8) - kColumn[row][c]));
  return worst;
}

/// ISO 10211 case 2: 500 mm x 47.5 mm, in metres; `smallest` is the least cell in metres.
struct Sheet {
  std::vector<double> x, y, t;
  Grid m;
  explicit Sheet(double smallest)
      : x(graded({0, 0.0015, 0.015, 0.5}, smallest, 1.35)),
        y(graded({0, 0.0015, 0.035, 0.0365, 0.0415, 0.0475}, smallest, 1.35)),
        m(x, y) {
    m.paint(0, 0.5, 0, 0.0415, 0.029);  // insulation
    m.paint(0, 0.5, 0, 0.0015, 230);    // aluminium: sheet, upright, flange
    m.paint(0, 0.0015, 0, 0.035, 230);
    m.paint(0, 0.015, 0.035, 0.0365, 230);
    m.paint(0, 0.015, 0.0365, 0.0415, 0.12);  // wood
    m.paint(0, 0.5, 0.0415, 0.0475, 1.15);    // concrete
    m.film_below(0.11, 20);
    m.film_above(0.06, 0);
    t = solve(m);
  }
  /// Number of cells below a line of the mesh.
  static std::size_t cells_to(const std::vector<double>& sizes, double line) {
    std::size_t n = 0;
    for (double sum = 0; sum < line - 1e-9; ++n) sum += sizes[n];
    return n;
  }
  /// On the upper face (`j` = rows) or between cell rows j - 1 and j: where the heat of both half
  /// cells balances.
  double on_face(std::size_t i, std::size_t j) const {
    const std::size_t below = m.at(i, j - 1);
    const double from = 2 * m.k[below] / m.dy[j - 1];
    if (j == m.dy.size()) return t[below] * from / (from + 1 / 0.06);
    const std::size_t above = m.at(i, j);
    const double to = 2 * m.k[above] / m.dy[j];
    return (t[below] * from + t[above] * to) / (from + to);
  }
  double on_lower_face(std::size_t i) const {
    const double to = 2 * m.k[i] / m.dy[0], film = 1 / 0.11;
    return (20 * film + t[i] * to) / (film + to);
  }
};

}  // namespace

// Source: ISO 10211 case 1: 28 values (tests/reference/SOURCES.md#iso-10211); they round the exact
// series, so 0.0005 of the tolerance is theirs. The standard asks for 0.1 K; second order leaves
// 0.0034 K at 32 x 64 cells. Least n first: 8 x 16 cells 0.050, 16 x 32 0.0133, 32 x 64 0.0034.
TEST_CASE(
    "oracle: ISO 10211 case 1, 28 temperatures within 0.01 K, and the error falls fourfold with "
    "half the cell") {
  const double coarse = column_error(16), fine = column_error(32);
  CHECK(fine < 0.01);
  CHECK(coarse / fine > 3.0);
  CHECK(coarse / fine < 5.0);
}

// Source: ISO 10211 case 2: nine temperatures within 0.1 K and the heat flow within 0.1 W/m
// (tests/reference/SOURCES.md#iso-10211). The printed values have one decimal, which adds nothing:
// the standard's criterion is on the printed ones. G is read in the aluminium cell, since a mean
// across metal and insulation is 1 K too low.
TEST_CASE("oracle: ISO 10211 case 2, nine temperatures within 0.1 K and heat flow within 0.1 W/m") {
  const Sheet s(0.0004);
  const std::size_t right = s.x.size() - 1, top = s.y.size();
  const std::size_t flange = Sheet::cells_to(s.x, 0.015), wood = Sheet::cells_to(s.y, 0.0365),
                    concrete = Sheet::cells_to(s.y, 0.0415);
  const auto is = [](double got, double want) {
    CAPTURE(got);
    CAPTURE(want);
    CHECK(std::fabs(got - want) < 0.1);
  };
  is(s.on_face(0, top), 7.1);                                                    // A
  is(s.on_face(right, top), 0.8);                                                // B
  is(s.on_face(0, concrete), 7.9);                                               // C
  is((s.on_face(flange - 1, concrete) + s.on_face(flange, concrete)) / 2, 6.3);  // D
  is(s.on_face(right, concrete), 0.8);                                           // E
  is(s.on_face(0, wood), 16.4);                                                  // F
  is(s.t[s.m.at(flange - 1, wood - 1)], 16.3);                                   // G
  is(s.on_lower_face(0), 16.8);                                                  // H
  is(s.on_lower_face(right), 18.3);                                              // I
  is(heat_in(s.m, s.t), 9.5);
}

// Hand derivation: slabs in series have no second dimension: 0.61 + 0.5/1.25 + 3.5/0.32 + 0.46
// = 12.4075. The harmonic mean is exact there; rounding noise. Side by side without a way across (k
// very unlike, no shared layer) the mean of the two U holds only at the films' limits, so it is not
// tested here.
TEST_CASE("oracle: slabs in series give the sum of their R") {
  Grid m(graded({0, 8}, 0.5, 1.3), graded({0, 0.5, 4.0}, 0.1, 1.3));
  m.paint(0, 8, 0, 0.5, 1.25);
  m.paint(0, 8, 0.5, 4.0, 0.32);
  CHECK(std::fabs(air_to_air_r(m, 0.61, 0.46) - 12.4075) < 1e-9);
}
