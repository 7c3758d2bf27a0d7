// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

struct BattRow {
  double label_r, label_in, thickness, table, law;
};

// Source: tests/reference/SOURCES.md#compressed-batts: installed R by cavity depth (integers),
// beside the one-constant law.
constexpr BattRow kBatts[] = {
    {19, 6.25, 5.5, 18, 17.73}, {19, 6.25, 3.5, 14, 13.46},  {21, 5.5, 3.5, 15, 15.05},
    {22, 6.5, 5.5, 20, 19.89},  {22, 6.5, 3.5, 15, 14.67},   {25, 8, 7.25, 24, 23.68},
    {25, 8, 5.5, 20, 20.08},    {30, 8.25, 7.25, 27, 27.61}, {30, 8.25, 5.5, 22, 22.84},
    {30, 10, 9.25, 29, 28.79},  {30, 10, 7.25, 26, 25.08},   {30, 10, 5.5, 21, 21.08},
    {38, 10, 9.25, 36, 36.08},  {38, 10, 7.25, 30, 30.44},   {38, 12, 11.25, 37, 36.67},
    {38, 12, 9.25, 33, 32.69},  {38, 12, 7.25, 28, 27.99}};

double law(double r0, double l0, double l) {
  return squeezed_batt_r(r_value(r0), inches(l0), inches(l)).us();
}

double thickness_of(const Column& column, std::size_t layer) {
  return column.thickness[layer].us();
}

}  // namespace

// Source: tests/reference/SOURCES.md#compressed-batts: published label table; integers round by 0.5
// and the fit's worst residual is 0.92, so 1.0 R.
TEST_CASE("squeezed batt: the published table is met within 1.0 R, RMS below 0.5") {
  double squares = 0;
  for (const BattRow& row : kBatts) {
    CAPTURE(row.label_r);
    CAPTURE(row.thickness);
    const double r = law(row.label_r, row.label_in, row.thickness);
    near(r, row.table, 1.0);
    squares += (r - row.table) * (r - row.table);
  }
  CHECK(std::sqrt(squares / 17) < 0.5);
}

// Independent: tests/reference/SOURCES.md#compressed-batts: the law's own column, worked out apart
// from the program; half its last digit. R-21 in 3.5 in. is the one point above 4.3 per inch by the
// law alone, 15.26: it stays at 15.05.
TEST_CASE("squeezed batt: the law gives its printed column") {
  for (const BattRow& row : kBatts) {
    CAPTURE(row.label_r);
    near(law(row.label_r, row.label_in, row.thickness), row.law, 0.005);
  }
}

// Source: tests/reference/SOURCES.md#compressed-batts: label R at label thickness, exact by
// definition of the law.
TEST_CASE("squeezed batt: at or above its label thickness it has its label R") {
  for (const BattRow& row : kBatts) {
    near(law(row.label_r, row.label_in, row.label_in), row.label_r, kNoise);
    CHECK(law(row.label_r, row.label_in, row.label_in * 1.3) == row.label_r);
    near(law(row.label_r, row.label_in, row.label_in * (1 - 1e-9)), row.label_r,
         1e-6);  // continuous at the label
  }
}

// Hand derivation: at half, R-19 in 6.25 in. is 3.125/(0.1724 + (6.25/19 - 0.1724)/2)
// = 3.125/0.2506737 = 12.4664; four digits kept. The guards: L0/R0 = 0.1724 is R-10 in 1.724 in.; a
// batt of no thickness is none.
TEST_CASE("squeezed batt: the guards hold at their bounds") {
  near(law(19, 6.25, 3.125), 12.4664, 5e-5);
  CHECK_THROWS_WITH_AS(law(19, 6.25, 0), doctest::Contains("cannot lie 0 in. thick"), Error);
  CHECK_THROWS_WITH_AS(law(10, 1.724, 1.5), doctest::Contains("thinner for its R"), Error);
  CHECK_NOTHROW(law(10, 1.73, 1.5));
  CHECK_THROWS_AS(law(-19, 6.25, 5), Error);
  CHECK_THROWS_AS(law(19, 0, 5), Error);
  CHECK_THROWS_AS(law(19, 6.25, std::nan("")), Error);
}

// Hand derivation: a batt of 6.25 in. and loose fill that takes the rest. 9 in.: 6.25 + 2.75. 5
// in.: the loose fill is gone and the batt gives way to 5.
TEST_CASE("column: loose fill takes the rest, then a batt gives way") {
  const std::vector<BuiltLayer> layers = {batt_layer(19, 6.25), loose_layer(3.5)};
  const Column deep = column_at(layers, inches(9));
  CHECK(thickness_of(deep, 0) == 6.25);
  CHECK(thickness_of(deep, 1) == 2.75);
  near(insulation_r(layers, deep).us(), 19 + 2.75 * 3.5, kNoise);
  const Column thin = column_at(layers, inches(5));
  CHECK(thickness_of(thin, 0) == 5.0);
  CHECK(thickness_of(thin, 1) == 0.0);
  CHECK(thin.missing == 0);
}

// Hand derivation: batts of 6.25 and 3.5 in. at 8 in.: 1.75 too many; the upper gives down to its
// half, 1.75, and that is just enough. At 6 in. 2 more: the lower gives 2.
TEST_CASE("column: batts give way from the top down") {
  const std::vector<BuiltLayer> layers = {batt_layer(19, 6.25), batt_layer(11, 3.5, Lies::across)};
  const Column a = column_at(layers, inches(8));
  CHECK(thickness_of(a, 0) == 6.25);
  CHECK(thickness_of(a, 1) == 1.75);
  const Column b = column_at(layers, inches(6));
  CHECK(thickness_of(b, 0) == 4.25);
  CHECK(thickness_of(b, 1) == 1.75);
}

// Hand derivation: 12 in. read over a 6.25 in. batt alone: nothing takes the other 5.75 in., so the
// label R stands and the excess is marked.
TEST_CASE("column: a reading above the sum gives the label R and is marked") {
  const std::vector<BuiltLayer> layers = {batt_layer(19, 6.25)};
  const Column column = column_at(layers, inches(12));
  CHECK(column.excess);
  CHECK(insulation_r(layers, column).us() == 19.0);
  CHECK_FALSE(column_at(layers, inches(6.25)).excess);
}

// Hand derivation: boards never compress; 2 in. of board cannot read 1.5 in., 0 is a bare spot.
TEST_CASE("column: a depth below the boards is refused, a bare spot is not") {
  const std::vector<BuiltLayer> layers = {board_layer(5, 2), loose_layer(3.5)};
  CHECK_THROWS_WITH_AS(column_at(layers, inches(1.5)), doctest::Contains("below the boards alone"),
                       Error);
  CHECK(column_at(layers, inches(0)).fill().us() == 0.0);
  CHECK(thickness_of(column_at(layers, inches(5)), 1) == 3.0);
  const std::vector<Length> thin = {inches(1), inches(3)};
  CHECK_THROWS_WITH_AS(column_of(layers, thin), doctest::Contains("of a board"), Error);
}

// Hand derivation: per-layer depths are taken as given, a squeezed batt's too.
TEST_CASE("column: depths by layer are taken as given") {
  const std::vector<BuiltLayer> layers = {batt_layer(19, 6.25), loose_layer(3.5)};
  const std::vector<Length> given = {inches(5), inches(7)}, torn = {inches(0), inches(7)};
  CHECK(column_of(layers, given).fill().us() == 12.0);
  near(insulation_r(layers, column_of(layers, torn)).us(), 24.5, kNoise);
}

// Hand derivation: what is wet or soiled counts nothing; 2 in. of wet fill under 4 in. of dry
// at 3.5 is 14.
TEST_CASE("column: wet and soiled layers count nothing") {
  for (Condition condition : {Condition::wet, Condition::soiled}) {
    std::vector<BuiltLayer> layers = {loose_layer(3.5, 2), loose_layer(3.5, 4)};
    layers[0].condition = condition;
    near(insulation_r(layers, column_at(layers, inches(6))).us(), 14, kNoise);
  }
}
