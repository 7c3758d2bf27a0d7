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
constexpr double kFreshPerInch = 3.9, kFreshSettling = 0.15;

/// No joists, a fill of one R per inch without a range: the readings alone are uncertain.
Survey survey_with(const std::vector<double>& depths) {
  Section s = loose_section(depths, "field-fill");
  s.joists->framing_fraction = 0.0;
  Survey survey = survey_of({s});
  Material m;
  m.id = m.name = "field-fill";
  m.typical = r_per_inch(kFieldPerInch);
  Material fresh = m;  // richer than the old fill, and it settles
  fresh.id = fresh.name = "new-fill";
  fresh.typical = r_per_inch(kFreshPerInch);
  fresh.settling_high = kFreshSettling;
  survey.materials = {m, fresh};
  survey.proposal->material = fresh.id;
  return survey;
}

/// R of the whole field under fill that is leveled off.
double filled_r(const Attic& attic, double level) {
  double u = 0;
  for (const double d : attic.depths)
    u += 1 / (kEnds + kFieldPerInch * d +
              kFreshPerInch * (1 - kFreshSettling) * std::max(0.0, level - d));
  return static_cast<double>(attic.depths.size()) / u;
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
  double holds = 0, too_good = 0, too_bad = 0, after_holds = 0, after_too_good = 0;
  int asked = 0, surveys = 0;  ///< to measure the bare area
};

template <class Make>
Coverage coverage(const Field& field, int n, Make make) {
  Coverage c;
  constexpr double kEach = 100.0 / (kAttics * kSurveys);
  each_survey(field, kAttics, kSurveys, [&](const Attic& attic, Dice& dice) {
    const Evaluation e = run(make(attic, n, dice));
    const ExistingResult& x = e.sections[0].existing;
    const TopUp& t = e.planned.high.sections[0];
    const double after = filled_r(attic, t.initial_level.value_or(Length{}).us());
    if (after < t.effective_r_range->low.us()) c.after_too_good += kEach;
    if (after >= t.effective_r_range->low.us() && after <= t.effective_r_range->high->us())
      c.after_holds += kEach;
    const double truth = 1 / attic.true_u;
    (truth < x.effective_r_range->low.us()     ? c.too_good
     : truth > x.effective_r_range->high->us() ? c.too_bad
                                               : c.holds) += kEach;
    c.asked += x.measure_bare ? 1 : 0;
    ++c.surveys;
  });
  return c;
}

// Under leveled fill little of the unevenness is left. What misses does so on the safe side: rare
// spots deeper than the new level, that no reading met, make R better than the range.
void check_after(const Coverage& c) {
  CHECK(c.after_holds >= 75);
  CHECK(c.after_too_good <= 12);
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
      check_after(c);
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
      check_after(c);
    }
}
