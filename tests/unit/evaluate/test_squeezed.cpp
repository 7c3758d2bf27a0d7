// SPDX-License-Identifier: MIT
// Batts squeezed below half of their label thickness: the law, its range, the column, and what
// savings count.
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

double batt(double r0, double l0, double l, BattSide side = BattSide::center) {
  return squeezed_batt_r(r_value(r0), inches(l0), inches(l), side).us();
}

/// 1,000 ft2 without wood, R-19 batts of 6.25 in. at the depths read.
Section batts_at(const std::vector<double>& depths) {
  Section s = loose_section(depths);
  s.layers = {batt_of(19, 6.25)};
  s.joists->framing_fraction = 0.0;
  return s;
}

double step_change(const ExistingResult& r, std::string_view code) {
  for (const LossStep& s : r.steps)
    if (s.code == code) return s.change.us();
  return -999;
}

}  // namespace

// Symptom: a batt below half its label thickness had no R, or was refused; cause: the law ended at
// half. Source: tests/reference/SOURCES.md#squeezed-rule: share of R by share of thickness, whole
// percents, so half a percent, and 0.3 for its form.
TEST_CASE(
    "squeezed batt: the federal table lies in the range of light batts, and its form is the low "
    "end") {
  constexpr double kRule[][2] = {{0.10, 0.14}, {0.20, 0.28}, {0.30, 0.40},
                                 {0.37, 0.48}, {0.40, 0.51}, {0.50, 0.61},
                                 {0.60, 0.70}, {0.70, 0.78}, {0.75, 0.82}};
  for (const auto& row : kRule) {
    const double x = row[0], share = row[1];
    CAPTURE(x);
    for (const auto& [r0, l0] : {std::pair(11.0, 3.5), std::pair(19.0, 6.25)}) {
      CHECK(batt(r0, l0, x * l0, BattSide::low) / r0 <= share + 0.008);
      CHECK(batt(r0, l0, x * l0, BattSide::high) / r0 >= share - 0.005);
      if (x >= 0.3) near(batt(r0, l0, x * l0, BattSide::low) / r0, share, 0.008);
    }
  }
}

// Source: tests/reference/SOURCES.md#loft-wool-pair: 6.11 m2K/W at 270 mm, 3.09 at 100 mm,
// measured. Hand derivation: the law 3.123, the rule 2.910, 4.3 per inch 2.981.
TEST_CASE("squeezed batt: a national laboratory's pair lies in the range") {
  constexpr double kSi = 5.678263;  // R of 1 m2K/W
  const double r0 = 6.11 * kSi, l0 = 270 / 25.4, l = 100 / 25.4;
  CHECK(batt(r0, l0, l, BattSide::low) < 3.09 * kSi);
  CHECK(batt(r0, l0, l, BattSide::high) > 3.09 * kSi);
  near(batt(r0, l0, l, BattSide::high) / kSi, 3.123, 5e-4);
  near(batt(r0, l0, l, BattSide::low) / kSi, 2.910, 5e-4);
  near(batt(r0, l0, l) / kSi, 2.981, 5e-4);
}

// Hand derivation: R-19 of 6.25 in. at 2.5: 2.5/(0.1724 + 0.156547·0.4) = 10.6374, which is 4.25
// per inch; the rule 19·0.4/0.7882 = 9.6422. At 1.25: 4.3 per inch; the rule at 0.3, 7.5707, in
// proportion, 5.0472.
TEST_CASE("squeezed batt: worked figures below half") {
  near(batt(19, 6.25, 2.5), 10.6374, 5e-5);
  near(batt(19, 6.25, 2.5, BattSide::low), 9.6422, 5e-5);
  near(batt(19, 6.25, 1.25), 5.375, kNoise);
  near(batt(19, 6.25, 1.25, BattSide::low), 5.0472, 5e-5);
}

// Invariant: R rises with thickness without a step, the sides keep their order, and no squeezed
// batt has more than 4.3 per inch (or its own label's R per inch).
TEST_CASE("squeezed batt: R falls on smoothly to nothing") {
  for (const auto& [r0, l0] :
       {std::pair(11.0, 3.5), std::pair(15.0, 3.5), std::pair(19.0, 6.25), std::pair(38.0, 12.0)}) {
    const double label = r0;
    CAPTURE(label);
    double before = 0.0;
    for (int i = 1; i <= 1000; ++i) {
      const double l = l0 * i / 1000, r = batt(r0, l0, l);
      CHECK(r > before);
      CHECK(r - before < 6.0 * l0 / 1000);  // the steepest slope there is, 1/a per inch
      CHECK(r <= std::max(4.3, r0 / l0) * l + kNoise);
      CHECK(batt(r0, l0, l, BattSide::low) <= r + kNoise);
      CHECK(batt(r0, l0, l, BattSide::high) >= r - kNoise);
      before = r;
    }
    near(before, r0, kNoise);
  }
}

// Symptom: a floor whose R-19 batts read 2.5 in. was worth R-0; cause: below half a batt was taken
// as missing. Hand derivation: without wood the working R is that of the batt, 10.6374, its range
// from 9.6422 to the law itself.
TEST_CASE("squeezed batt: a floor below half keeps its R, with a range and a caution") {
  Section floor = batts_at({2.5, 2.5, 2.5});
  floor.bare_share = 0.0;
  const Evaluation e = run(survey_of({floor}));
  const ExistingResult& x = e.sections[0].existing;
  near(x.working_r.us(), 10.6374, 5e-5);
  near(x.working_r_range->low.us(), 9.6422, 5e-5);
  near(x.working_r_range->high->us(), 10.6374, 5e-5);
  CHECK(raises(e, "batt-below-half"));
  CHECK_FALSE(raises(e, "batt-missing"));
  CHECK_FALSE(raises(run(survey_of({batts_at({3.2, 3.2})})), "batt-below-half"));
}

// Invariant: the saving is counted from the high end as found. Hand derivation: at 2 in. the law
// gives 2/(0.1724 + 0.156547·0.32) = 8.98889, the middle 8.6; films and ceiling 1.52, so 1000/(1.52
// + 8.98889) before.
TEST_CASE("squeezed batt: savings take the high end as found") {
  const Evaluation e = run(priced_with_gas(survey_of({batts_at({2, 2})})));
  REQUIRE(e.heating);
  near(e.sections[0].existing.working_r.us(), 8.6, kNoise);
  near(e.heating->ua_before.us(), 1000 / (kEnds + 8.98889), 1e-3);
  CHECK(assumes(e, "saving-counts-squeezed"));
}

// Invariant: where nothing is done nothing is saved, whatever the range: a floor of squeezed batts
// that meets its target.
TEST_CASE("squeezed batt: a floor that is left as it is saves nothing") {
  const Evaluation e = run(priced_with_gas(survey_of({batts_at({2, 2})}, 8, 8)));
  REQUIRE(e.heating);
  near(e.heating->ua_before.us(), 1000 / (kEnds + 8.6), 1e-6);
  CHECK_FALSE(assumes(e, "saving-counts-squeezed"));
}

// Hand derivation: a batt of 6.25 in. under loose fill. 9 in.: 6.25 + 2.75. 5 in.: the loose fill
// is gone and the batt gives way to 5. 2 in.: it gives way further. Batts of 6.25 and 3.5 in.
// at 4.8: the halves, 4.875, are 0.075 too much, and the upper gives that; at 3 in. nothing of it
// is left.
TEST_CASE("column: layers give way from the top down, to half and then further") {
  const std::vector<BuiltLayer> fill = {batt_layer(19, 6.25), loose_layer(3.5)};
  const Column thin = column_at(fill, inches(2));
  near(thin.thickness[0].us(), 2, kNoise);
  CHECK(thin.thickness[1] == Length{});
  CHECK(thin.missing == 0);
  const std::vector<BuiltLayer> two = {batt_layer(19, 6.25), batt_layer(11, 3.5)};
  const Column a = column_at(two, inches(4.8));
  near(a.thickness[0].us(), 3.125, kNoise);
  near(a.thickness[1].us(), 1.675, kNoise);
  CHECK(a.missing == 0);
  const Column b = column_at(two, inches(3));
  near(b.thickness[0].us(), 3, kNoise);
  CHECK(b.thickness[1] == Length{});
  CHECK(b.missing == 1);
  near(column_of(two, std::vector<Length>{inches(2), inches(1)}).fill().us(), 3, kNoise);
}

// Hand derivation: R-19 of 6.25 in. at 3.5 in. is 13.458 (method eq. 2), 5.542 less than its label
// over the covered spots; bare spots are another step. A third of bare floor changes nothing in it.
TEST_CASE(
    "squeezed batt: what squeezing takes is a step of its own, over the spots that are not bare") {
  for (const std::vector<double>& depths :
       {std::vector<double>{3.5, 3.5}, std::vector<double>{0, 3.5, 3.5}}) {
    Section s = flat_section();
    s.layers = {batt_of(19, 6.25)};
    for (double d : depths) s.readings.push_back(reading_of(d));
    near(step_change(run(survey_of({s})).sections[0].existing, "batts-squeezed"), -5.542, 5e-4);
  }
  Section bare = flat_section();
  bare.layers = {batt_of(19, 6.25)};
  bare.readings = {reading_of(0)};
  near(step_change(run(survey_of({bare})).sections[0].existing, "batts-squeezed"), 0, kNoise);
}
