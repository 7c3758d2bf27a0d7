// SPDX-License-Identifier: MIT
// The saving through a ceiling under a vented attic whose air is warmer than outdoors (eq. 13c).
#include <doctest/doctest.h>

#include "fixtures.hpp"
#include "overjoist/leakage.hpp"

using namespace fixtures;

namespace {

Survey balanced(std::vector<Section> sections) {
  Survey s = priced_with_gas(survey_of(std::move(sections)));
  s.site.attic_air.reset();  // the default
  s.site.elevation_ft = 0;
  return s;
}

Survey outdoors(Survey s) {
  s.site.attic_air = AtticConvention::outdoors;
  return s;
}

/// UA of a section as found.
double ua(const Evaluation& e, std::size_t i) {
  return e.sections[i].area.us() / e.sections[i].existing.effective_r.us();
}

double through(double ceilings, double s) { return ceilings * s / (ceilings + s); }

Section named(Section s, const char* name, double area_ft2) {
  s.name = name;
  s.area = square_feet(area_ft2);
  return s;
}

Section slope() {
  Section s = named(flat_section(), "slope", 300);
  s.kind = SectionKind::slope;
  s.vent_gap = inches(1);
  return s;
}

/// S of 1,000 ft2 by the defaults. Hand derivation: roof 1000·13/12 = 1083.333 ft2, over 1.9:
/// 570.175; sqrt(1000/1.5) = 25.8199 ft wide, half the rise 2.689572 ft, 2689.572 ft3, 3/60 of it
/// 134.4786 cfm, times 1.08: 145.237.
constexpr double kS1000 = 715.41231;
constexpr double kTight = 1e-4;  // of what is written above

/// 1,040 ft2, 26 ft wide, of a fill without wood, whose R with films and board is just that.
Survey house(double from_r, double to_r, double elevation_ft) {
  const double rho = tables().material("cellulose-loose")->central()->us();
  Section s = loose_section({(from_r - kEnds) / rho});
  s.area = square_feet(1040);
  s.length = inches(12 * 40);
  s.width = inches(12 * 26);
  s.joists->framing_fraction = 0.0;
  Survey survey = balanced({s});
  survey.target = {r_value(to_r), r_value(to_r), Basis::effective};
  survey.site.elevation_ft = elevation_ft;
  return survey;
}

}  // namespace

// Independent: check figures of a study that shares no code with this one, whole percent. 1: what
// is printed is rounded, levels go up to 1/4 in., and whether its R holds wood is not said.
TEST_CASE("attic air: what the whole evaluation takes off the saving of one house") {
  const double rows[][4] = {
      {19, 49, 10, 9}, {11, 49, 14, 14}, {7, 44, 19, 19}, {kEnds, 49, 51, 49}};
  for (const auto& row : rows)
    for (const bool high_up : {true, false}) {
      CAPTURE(row[0]);
      const Survey s = house(row[0], row[1], high_up ? 5800 : 0);
      const Evaluation e = run(s), old = run(outdoors(s));
      REQUIRE(e.planned.high.totals.attic_air_percent);
      near(*e.planned.high.totals.attic_air_percent, high_up ? row[2] : row[3], 1);
      const double left = e.planned.high.totals.year->heat / old.planned.high.totals.year->heat;
      near(100 * (1 - left), *e.planned.high.totals.attic_air_percent, 1e-9);
      CHECK(e.planned.high.attic.ua == old.planned.high.attic.ua);  // the ceiling itself stays
      CHECK(e.planned.high.totals.bags == old.planned.high.totals.bags);
    }
}

// Hand derivation: kS1000; heat 24·6000·(fall of UA to outdoors).
TEST_CASE("attic air: one S serves all floors, lids and patches under the roof") {
  Section a = named(loose_section({4, 4, 4}), "a", 700),
          b = named(loose_section({8, 8, 8}), "b", 250);
  a.patches = {Patch{"platform", square_feet(40), r_value(2), ""}};
  Survey s = balanced({a, b, hatch_section(10, 2)});
  const Evaluation e = run(s);
  near(e.heating->air.attic->us(), kS1000, kTight);
  CHECK_FALSE(e.heating->air.side);
  const double found = ua(e, 0) + 40.0 / 2 + ua(e, 1) + 10.0 / 2;
  near(e.heating->ceiling_ua_before.us(), found, kNoise);
  near(e.heating->ua_before.us(), through(found, kS1000), kTight);
  const double after = e.planned.high.attic.ua.us();
  near(e.planned.high.totals.year->heat.us(),
       24 * 6000 * (through(found, kS1000) - through(after, kS1000)), 24 * 6000 * kTight);
  CHECK(assumes(e, "attic-balance"));
  CHECK_FALSE(assumes(e, "vented-attic"));
}

// Hand derivation: the slope's UA is added as it is, beside 1,000 ft2 of floor.
TEST_CASE("attic air: a slope stays against outdoors") {
  const Evaluation e = run(balanced({loose_section({4, 4, 4}), slope()}));
  near(e.heating->air.attic->us(), kS1000, kTight);
  near(e.heating->ua_before.us(), through(ua(e, 0), kS1000) + ua(e, 1), kTight);
  const Evaluation alone = run(balanced({slope()}));
  CHECK(alone.heating->ua_before == alone.heating->ceiling_ua_before);
  CHECK_FALSE(alone.planned.high.totals.attic_air_percent);
  CHECK_FALSE(assumes(alone, "attic-balance"));
}

// Hand derivation: the roof over 600 + 400 ft2 loses heat, the floor of 400 over a garage brings
// none.
TEST_CASE("attic air: a floor over rooms without heat adds its roof, but no heat") {
  Section garage = named(loose_section({2, 2}), "garage", 400);
  garage.below = Below::unheated;
  const Evaluation e = run(balanced({named(loose_section({4, 4, 4}), "house", 600), garage}));
  near(e.heating->ua_before.us(), through(ua(e, 0), kS1000), kTight);
}

// Hand derivation: floor of 8 x 25 ft, roof 216.667 ft2 over 1.9 = 114.0351; 8 ft is half a gable:
// rise 3.3333, mean 1.66667 ft, 333.33 ft3, 16.667 cfm·1.08 = 18; S = 132.0351. Without its floor
// in the survey: a wall of 120 ft2 under 5 in 12 stands over 120·12/5 = 288 ft2: roof 312 ft2,
// 164.2105; sqrt(192) = 13.8564 ft, half the rise 1.443376 ft, 415.692 ft3, 22.4474; S = 186.6579.
TEST_CASE("attic air: a side attic has an S of its own") {
  Section wall = named(flat_section(), "wall", 120);
  wall.kind = SectionKind::knee_wall;
  Section floor = named(loose_section({3, 3}), "side", 200);
  floor.kind = SectionKind::side_attic_floor;
  floor.length = inches(12 * 25);
  floor.width = inches(12 * 8);
  const Section main = loose_section({4, 4, 4});
  const Evaluation e = run(balanced({main, wall, floor}));
  near(e.heating->air.side->us(), 132.0351, kTight);
  near(e.heating->ua_before.us(),
       through(ua(e, 0), kS1000) + through(ua(e, 1) + ua(e, 2), 132.0351), kTight);
  const Evaluation no_floor = run(balanced({main, wall}));
  near(no_floor.heating->air.side->us(), 186.6579, kTight);
}

// Invariant: by the old convention the saving is the fall of the ceiling's own UA, and nothing is
// said of a balance.
TEST_CASE("attic air: outdoors gives the old figure") {
  const Evaluation e = run(outdoors(balanced({loose_section({4, 4, 4}), slope()})));
  CHECK(e.heating->ua_before == e.heating->ceiling_ua_before);
  near(e.heating->ua_before.us(), ua(e, 0) + ua(e, 1), kNoise);
  CHECK_FALSE(e.planned.high.totals.attic_air_percent);
  CHECK(assumes(e, "vented-attic"));
  for (const char* code : {"attic-balance", "attic-shape", "attic-roof-r", "attic-air-changes"})
    CHECK_FALSE(assumes(e, code));
}

// Hand derivation, for 1,000 ft2: roof R 2.5: 433.3333 + 145.2369; 1 air change: 570.1754 +
// 48.4123; 1,200 ft2 of roof: 631.5789 + 145.2369; 4,000 ft3: 570.1754 + 216; 12 in 12:
// 1414.2136/1.9 = 744.3230, rise 12.90994, half of it 6.45497: 6454.97 ft3, 348.5685. 5,800 ft: air
// x 0.80744. The width of 20 ft: half the rise 2.083333, 2083.333 ft3, 112.5.
TEST_CASE("attic air: every default can be replaced, and is listed until it is") {
  const auto s_of = [](auto change, const char* code) {
    Survey s = balanced({loose_section({4, 4, 4})});
    CHECK((code == nullptr || assumes(run(s), code)));
    change(s);
    const Evaluation e = run(s);
    CHECK((code == nullptr || !assumes(e, code)));
    return e.heating->air.attic->us();
  };
  near(s_of([](Survey& s) { s.site.roof_r = r_value(2.5); }, "attic-roof-r"), 578.5702, kTight);
  near(s_of([](Survey& s) { s.site.attic_air_changes = 1; }, "attic-air-changes"), 618.5877,
       kTight);
  near(s_of([](Survey& s) { s.site.roof_area = square_feet(1200); }, nullptr), 776.8158, kTight);
  near(s_of([](Survey& s) { s.site.attic_volume_ft3 = 4000; }, nullptr), 786.1754, kTight);
  near(s_of([](Survey& s) { s.site.roof_pitch_in_12 = 12; }, nullptr), 1092.8915, kTight);
  const auto sized = [](Survey& s) {
    s.site.roof_area = square_feet(1200);
    s.site.attic_volume_ft3 = 4000;
  };
  near(s_of(sized, "attic-shape"), 847.5789, kTight);
  near(
      s_of([](Survey& s) { s.sections[0].length = inches(600), s.sections[0].width = inches(240); },
           nullptr),
      682.6754, kTight);
  Survey s = balanced({loose_section({4, 4, 4})});
  s.site.elevation_ft.reset();
  CHECK(assumes(run(s), "attic-sea-level"));
  s.site.elevation_ft = 5800;
  CHECK_FALSE(assumes(run(s), "attic-sea-level"));
  near(run(s).heating->air.attic->us(), 570.1754 + 145.2369 * air_heat_factor(5800) / 1.08, kTight);
}

// Common practice: one roof has one pitch, and the eave says it; of two the flatter, which rounds
// the saving against us. Hand derivation: as above for 12 in 12.
TEST_CASE("attic air: the pitch of the eaves is that of the roof") {
  Section s = loose_section({4, 4, 4});
  s.eave = EaveSurvey{inches(6), 12, inches(12 * 60), {}, {}};
  near(run(balanced({s})).heating->air.attic->us(), 1092.8915, kTight);
  Section other = named(s, "other", 1e-6);
  other.eave->pitch_in_12 = 5;
  near(run(balanced({s, other})).heating->air.attic->us(), kS1000, 0.001);
}

// Invariant: the S of an attic does not hang on how the survey cuts it up, nor on the order.
TEST_CASE("attic air: a floor in two parts is one attic") {
  Section a = named(loose_section({4, 4, 4}), "a", 640), b = named(a, "b", 360);
  const double ab = run(balanced({a, b})).heating->ua_before.us();
  near(ab, run(balanced({loose_section({4, 4, 4})})).heating->ua_before.us(), 1e-9);
  near(run(balanced({b, a})).heating->ua_before.us(), ab, 1e-9);
}

// Invariant: method eq. 14a: the steps add up to the whole job, warm attic or not.
TEST_CASE("attic air: steps add up to the saving") {
  const Evaluation e = run(balanced({loose_section({3, 4, 3}), slope(), hatch_section(10, 2)}));
  REQUIRE(e.steps.size() >= 3);
  double money = 0, units = 0;
  for (std::size_t i = 1; i < e.steps.size() && e.steps[i].step != "beyond"; ++i) {
    money += *e.steps[i].annual_saving;
    units += *e.steps[i].fuel_units;
  }
  near(money, *e.planned.high.totals.measure.annual_saving, 1e-9);
  near(units * 1.2, money, 1e-9);
}

// Hand derivation: eq. 13b: a ceiling that loses UA to outdoors through the attic, over bills of 90
// therms at 0.8, of which half may be its; every money figure is scaled alike.
TEST_CASE("attic air: bills are held against the heat that goes through the attic") {
  Survey s = balanced({loose_section({4, 4, 4})});
  s.heating->bills = HeatingBills{90, 0.0, {}};
  const Evaluation e = run(s);
  const double share = 24 * 6000 * through(ua(e, 0), kS1000) / (90 * 1e5 * 0.8);
  near(e.heating->bills->computed_share, share, share * 1e-6);
  REQUIRE(share > 0.5);
  const Totals& t = e.planned.high.totals;
  const double money = t.year->fuel.units * 1.2 * 0.5 / share;
  near(*t.year_by_bills->fuel.money, money, money * 1e-6);
  near(*t.measure.annual_saving, money, money * 1e-6);
  near(*t.measure.payback, *t.measure.cost / money, 1e-4);
  near(*e.steps[1].annual_saving + *e.steps[2].annual_saving + *e.steps[3].annual_saving,
       *run(s).steps[3].saving_so_far, 1e-9);
}

// Hand derivation: the ceiling saves 1 - UA_a/UA_b to outdoors; the claim is of the bills, the
// ceiling's share of them times that.
TEST_CASE("attic air: a percentage in a quote is held against the same balance") {
  Survey s = balanced({loose_section({4, 4, 4})});
  s.heating->bills = HeatingBills{2000, 0.0, {}};
  Claim c;
  c.kind = ClaimKind::percent_saved;
  c.value = 60;
  s.claims = {c};
  const Evaluation e = run(s);
  const double before = through(ua(e, 0), kS1000),
               after = through(e.planned.high.attic.ua.us(), kS1000);
  const double share = e.heating->bills->computed_share;
  REQUIRE(e.claims.size() == 1);
  near(*e.claims[0].computed_high, 100 * share * (1 - after / before), 1e-4);
  CHECK(e.claims[0].verdict == ClaimVerdict::disagrees);
}

// Invariant: the cooling range counts the attic by a rise of its own; the balance of the winter is
// none of it.
TEST_CASE("attic air: cooling is what it was") {
  Survey s = balanced({loose_section({4, 4, 4})});
  s.cooling = Cooling{3.0, 0.15, 5000, 900};
  const Evaluation e = run(s), old = run(outdoors(s));
  CHECK(e.planned.high.totals.cooling->kwh_high == old.planned.high.totals.cooling->kwh_high);
  CHECK(e.planned.high.totals.cooling->kwh_low > 0);
}
