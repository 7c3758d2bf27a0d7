// SPDX-License-Identifier: MIT
// The 90 % range that a survey gets, on simulated attics of a known R.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <vector>

#include "attic_fields.hpp"
#include "fixtures.hpp"

using namespace fixtures;

#if defined(__SANITIZE_ADDRESS__)
#define OVERJOIST_SLOW 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(memory_sanitizer)
#define OVERJOIST_SLOW 1
#endif
#endif

namespace {

#ifdef OVERJOIST_SLOW
constexpr bool kSlow = true;  // a sanitizer has its own, shorter tests of the same code
#else
constexpr bool kSlow = false;
#endif
constexpr int kAttics = 50, kSurveys = 10;

/// No joists, a fill of one R per inch without a range: the readings alone are uncertain.
Survey survey_with(const std::vector<double>& depths) {
  Section s = loose_section(depths, "field-fill");
  s.joists->framing_fraction = 0.0;
  Survey survey = survey_of({s});
  Material m;
  m.id = m.name = "field-fill";
  m.typical = r_per_inch(kFieldPerInch);
  survey.materials = {m};
  return survey;
}

std::vector<double> read(const std::vector<double>& field, int n, Dice& dice) {
  std::vector<double> depths;
  for (int i = 0; i < n; ++i) depths.push_back(std::min(100.0, field[dice.below(field.size())]));
  return depths;
}

Survey measured(const Attic& attic, int n, Dice& dice) {
  std::vector<double> depths = read(attic.covered_depths, n, dice);
  for (double& d : depths) d = std::max(d, 0.5);  // less is not called covered
  Survey survey = survey_with(depths);
  const double tape = std::max(0.0, 1 + 0.15 * dice.normal());
  survey.sections[0].bare_share = std::min(1.0, attic.bare_share * tape);
  return survey;
}

Survey sampled(const Attic& attic, int n, Dice& dice) {
  return survey_with(read(attic.depths, n, dice));
}

struct Coverage {
  double holds = 0, too_good = 0, too_bad = 0;
  int asked = 0, surveys = 0;  ///< to measure the bare area
};

template <class Make>
Coverage coverage(const Field& field, int n, Make make) {
  Dice dice;
  Coverage c;
  constexpr double kEach = 100.0 / (kAttics * kSurveys);
  for (int a = 0; a < kAttics; ++a) {
    const Attic attic = attic_of(field, dice);
    for (int s = 0; s < kSurveys; ++s) {
      const ExistingResult x = run(make(attic, n, dice)).sections[0].existing;
      const double truth = 1 / attic.true_u;
      (truth < x.effective_r_range->low.us()     ? c.too_good
       : truth > x.effective_r_range->high->us() ? c.too_bad
                                                 : c.holds) += kEach;
      c.asked += x.measure_bare ? 1 : 0;
      ++c.surveys;
    }
  }
  return c;
}

}  // namespace

// Symptom: the range of the headline held the true R of attics with bare spots in 23 to 66 of 100
// surveys. Independent: simulation through `evaluate`, fixed seed; 500 surveys each, so 1.3 of a
// percent is its own scatter and the bounds are those of the page less twice that.
TEST_CASE("coverage: the range of a survey with its bare area measured" * doctest::skip(kSlow)) {
  for (const Field& field : kFields)
    for (const int n : {5, 10, 20}) {
      CAPTURE(field.variation);
      CAPTURE(field.bare);
      CAPTURE(n);
      const Coverage c = coverage(field, n, measured);
      CHECK(c.holds >= 85 - 2.6);
      CHECK(c.holds <= 96 + 2.6);
      CHECK(c.too_good <= 12 + 2.6);
      CHECK(c.too_bad <= 12 + 2.6);
      CHECK(c.asked == 0);
    }
}

// Independent: the same, and nobody measured: at 10 % bare the prior knows too little, and every
// survey is asked to measure.
TEST_CASE("coverage: the range of a survey whose bare area nobody measured" *
          doctest::skip(kSlow)) {
  for (const Field& field : kFields)
    for (const int n : {5, 10, 20}) {
      CAPTURE(field.variation);
      CAPTURE(field.bare);
      CAPTURE(n);
      const Coverage c = coverage(field, n, sampled);
      const bool rare = field.bare < 0.06;
      CHECK(c.holds >= (rare ? 80 : 65) - 2.6);
      CHECK(c.too_good <= (rare ? 8 : 35) + 2.6);
      CHECK(c.asked == c.surveys);
    }
}
