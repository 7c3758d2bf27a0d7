// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

/// The target that a site alone gives.
TargetBand band_of(const Site& site) {
  Survey survey = survey_of({loose_section({4})});
  survey.target = {};
  survey.site = site;
  return run(survey).target;
}

struct ZoneRow {
  double hdd65, cdd50;
  bool marine;
  const char* zone;
};

struct BandRow {
  const char* given;
  double low, high;
};

std::string zone_of(double hdd65, double cdd50, bool marine) {
  Site site;
  site.hdd65_f_day = hdd65;
  site.cdd50_f_day = cdd50;
  site.marine = marine;
  return band_of(site).zone.substr(0, 1);
}

}  // namespace

// Source: tests/reference/SOURCES.md#zones: thresholds by degree days; each bound just below, at and just above. Order of the rows is our
// own reading: zones 1 and 2 by cooling first, then 5 to 8 by heating, then marine, then by cooling.
TEST_CASE("zones: every bound belongs to the zone below it") {
  const ZoneRow rows[] = {
      {500, 9001, false, "1"},  {500, 9000, false, "2"},  {500, 8999, false, "2"},  {500, 6301, false, "2"},  {500, 6300, false, "3"},
      {500, 6299, false, "3"},  {3000, 4501, false, "3"}, {3000, 4500, false, "4"}, {3000, 4499, false, "4"}, {5399, 5000, false, "3"},
      {5400, 5000, false, "3"}, {5401, 5000, false, "5"}, {5399, 3000, false, "4"}, {5400, 3000, false, "4"}, {5401, 3000, false, "5"},
      {7199, 1000, false, "5"}, {7200, 1000, false, "5"}, {7201, 1000, false, "6"}, {8999, 1000, false, "6"}, {9000, 1000, false, "6"},
      {9001, 1000, false, "7"}, {12599, 500, false, "7"}, {12600, 500, false, "7"}, {12601, 500, false, "8"}, {3599, 1500, true, "3"},
      {3600, 1500, true, "3"},  {3601, 1500, true, "4"},  {5399, 1500, true, "4"},  {5400, 1500, true, "4"},  {5401, 1500, true, "5"}};
  for (const ZoneRow& row : rows) {
    CAPTURE(row.hdd65);
    CAPTURE(row.cdd50);
    CAPTURE(row.marine);
    CHECK(zone_of(row.hdd65, row.cdd50, row.marine) == row.zone);
  }
}

// Source: tests/reference/SOURCES.md#federal-targets: low for an attic that already has 3-4 in., high for an uninsulated one; whole
// numbers, exact.
TEST_CASE("targets: the federal recommendation by zone") {
  const BandRow rows[] = {{"1", 25, 30},  {"1A", 25, 30}, {"2", 38, 49}, {"2B", 38, 49}, {"3", 38, 49}, {"3C", 38, 49}, {"4", 49, 60},
                          {"4A", 49, 60}, {"4C", 49, 60}, {"5", 49, 60}, {"5A", 49, 60}, {"6", 49, 60}, {"7", 49, 60},  {"8", 49, 60}};
  for (const BandRow& row : rows) {
    CAPTURE(row.given);
    Site site;
    site.climate_zone = row.given;
    const TargetBand band = band_of(site);
    CHECK(band.low.us() == row.low);
    CHECK(band.high.us() == row.high);
    CHECK(band.zone.substr(0, 1) == std::string(row.given).substr(0, 1));
  }
}

// Hand derivation: zone 0 is hotter than 1 and takes its row (method eq. 9).
TEST_CASE("targets: zone 0 counts as zone 1") {
  Site site;
  site.climate_zone = "0A";
  CHECK(band_of(site).low.us() == 25.0);
  CHECK(band_of(site).high.us() == 30.0);
}

// Common practice, no published source: where nothing is known, listed as an assumption.
TEST_CASE("targets: nothing given is R-38 to R-49, and said so") {
  Survey survey = survey_of({loose_section({4})});
  survey.target = {};
  for (int known = 0; known < 2; ++known) {
    if (known == 1) survey.site.hdd65_f_day = 6000;  // one kind of degree days alone gives no zone
    const Evaluation e = run(survey);
    CHECK(e.target.low.us() == 38.0);
    CHECK(e.target.high.us() == 49.0);
    CHECK(e.target.zone.empty());
    CHECK(assumes(e, "default-target"));
  }
}

// Hand derivation: what the survey asks for stands above any zone; one end given counts for both.
TEST_CASE("targets: the survey's own band rules, and one end stands for both") {
  Survey survey = survey_of({loose_section({4})}, 30, 44);
  survey.site.climate_zone = "6";
  CHECK(run(survey).target.low.us() == 30.0);
  CHECK(run(survey).target.high.us() == 44.0);
  survey.target.low.reset();
  CHECK(run(survey).target.low.us() == 44.0);
  CHECK(assumes(run(survey), "band-one-given"));
  survey.target = {r_value(50), r_value(40), {}};
  CHECK_THROWS_WITH_AS(run(survey), doctest::Contains("above high_r"), Error);
}

// Invariant: both ends are met by the basis asked for, and no more than a quarter inch beyond.
TEST_CASE("targets: working and effective basis are each met on their own figure") {
  for (Basis basis : {Basis::working, Basis::effective}) {
    Survey survey = survey_of({loose_section({2, 4, 6})}, 38, 49);
    survey.target.basis = basis;
    const SectionResult s = run(survey).sections[0];
    for (const TopUpResult* t : {&s.low, &s.high}) {
      const double value = basis == Basis::working ? t->working_r.us() : t->effective_r.us();
      CHECK(value >= t->target_r.us() - kNoise);
      CHECK(value <= t->target_r.us() + 3.5 * 0.8 * 0.25);
    }
  }
}
