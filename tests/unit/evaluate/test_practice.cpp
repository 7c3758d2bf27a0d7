// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

Survey own_batt(double r_inch, double thickness, const std::string& joists) {
  Section s = flat_section();
  s.joists->size = joists;
  Layer batt = layer_of("own-batt");
  batt.thickness = inches(thickness);
  s.layers = {batt};
  Survey survey = survey_of({s});
  Material m;
  m.id = m.name = "own-batt";
  m.form = Form::batt;
  m.typical = r_per_inch(r_inch);
  survey.materials = {m};
  return survey;
}

double low_of(const char* id) { return tables().material(id)->low->us(); }
double high_of(const char* id) { return tables().material(id)->high->us(); }

}  // namespace

// Common practice, no published source: a joist bay about 12 in. deep filled with glass-fibre batt
// at per inch gives about R-38: 12 x 3.2 = 38.4, so "about" is 0.5. A 2x12 is 11.25 in.
// deep: 36.0 by the same rule.
TEST_CASE("practice: a bay 12 in. deep of batt at R-3.2 per inch is worth about R-38") {
  near(run(own_batt(3.2, 12, "2x12")).sections[0].existing.working_r.us(), 38, 0.5);
  near(run(own_batt(3.2, 11.25, "2x12")).sections[0].existing.working_r.us(), 36.0, 0.05);
}

// Source: tests/reference/SOURCES.md#compressed-batts: the label table gives an R-38 batt of 12 in.
// R-37 in a 2x12; integers and worst residual, 1.0.
TEST_CASE("practice: an R-38 batt of 12 in. squeezed into a 2x12 is worth R-37") {
  Section s = flat_section();
  s.joists->size = "2x12";
  s.layers = {batt_of(38, 12)};
  s.readings = {reading_of(11.25)};
  near(run(survey_of({s})).sections[0].existing.working_r.us(), 37, 1.0);
}

// Common practice, no published source: a cold, high attic aims at; the default band
// of the table.
TEST_CASE("practice: the default band is R-38 to R-49") {
  CHECK(tables().default_low.us() == 38.0);
  CHECK(tables().default_high.us() == 49.0);
}

// Common practice, no published source: denim batt counts per inch, the top of the published
// range 3.0 to 3.7.
TEST_CASE("practice: denim reaches the 3.7 per inch that the trade counts") {
  CHECK(high_of("cotton-batt") == 3.7);
  CHECK(low_of("cotton-batt") == 3.0);
}

// Common practice, no published source: foam is per inch. By the table that holds for
// extruded (aged 4.8), polyisocyanurate and closed-cell spray, 4.6 to 7.0; moulded polystyrene and
// open-cell spray stay below 5.
TEST_CASE("practice: foam of R-5 to R-7 per inch is the stiff and closed-cell kind") {
  for (const char* id : {"xps-board", "polyiso-board", "spray-foam-closed"}) {
    CAPTURE(id);
    CHECK(tables().material(id)->central()->us() >= 4.8);
    CHECK(low_of(id) >= 4.6);
    CHECK(high_of(id) <= 7.0);
  }
  for (const char* id : {"eps-board", "spray-foam-open"}) CHECK(high_of(id) < 5.0);
}

// Source: tests/reference/SOURCES.md#extension-note: R-38 needs 10 to 12 in. of cellulose or 14 to
// 17 in. of glass fibre; whole inches, so the table's typical figures may give up to half an inch
// more or less.
TEST_CASE("practice: R-38 needs 10 to 12 in. of cellulose or 14 to 17 in. of loose glass fiber") {
  const double cellulose = 38 / tables().material("cellulose-loose")->central()->us(),
               glass = 38 / tables().material("glass-fiber-loose")->central()->us();
  CHECK(cellulose >= 9.5);
  CHECK(cellulose <= 12.5);
  CHECK(glass >= 13.5);
  CHECK(glass <= 17.5);
}

// Source: tests/reference/SOURCES.md#settling: cellulose about 20 %, loose glass and rock wool 2 to
// 4 %, second-hand.
TEST_CASE("practice: loose fill settles as the texts say") {
  CHECK(*tables().material("cellulose-loose")->settling_high ==
        doctest::Approx(0.20).epsilon(1e-12));  // rounding noise only
  CHECK(*tables().material("glass-fiber-loose")->settling_high ==
        doctest::Approx(0.04).epsilon(1e-12));  // rounding noise only
  CHECK(*tables().material("rock-wool-loose")->settling_high ==
        doctest::Approx(0.04).epsilon(1e-12));  // rounding noise only
}

// Source: tests/reference/SOURCES.md#label-thickness: R-11 in 3.5 in. is 3.14 per inch, the typical
// batt figure; half the last digit.
TEST_CASE("practice: the typical batt is R-11 in 3.5 in.") {
  near(tables().material("glass-fiber-batt")->typical->us(), 11 / 3.5, 0.005);
}
