// SPDX-License-Identifier: MIT
// A default that was taken is listed with the result, and one that was not taken is not: each row
// takes a survey that tells all and leaves one thing out.
#include <doctest/doctest.h>

#include <functional>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

/// A survey that tells all it can: floor, slope, wall and hatch, each by its own figures.
Survey told() {
  Section floor = loose_section({4, 5, 6});
  for (Reading& r : floor.readings) r.share = 1.0 / 3;
  floor.film_inside = r_value(0.61);
  floor.film_attic = r_value(0.46);
  floor.joists = Joists{"", inches(1.5), inches(5.5), inches(16), 0.1, r_per_inch(1.25)};
  floor.patches = {Patch{"light-cover", square_feet(2), r_value(2), "hall"}};
  floor.eave = EaveSurvey{inches(5), 5.0, inches(120), inches(1), {}};
  floor.bypasses = {{"open-chase", "bath", 1, inches(36), inches(12), {}},
                    {"top-plate", "hall", 1, inches(360), {}, {}}};
  Survey s = priced_with_gas(survey_of({floor}));
  s.proposal->waste_percent = 5.0;
  s.proposal->extras = {{"dams", 100, CostPart::insulation}, {"sealing", 90, CostPart::sealing}};
  s.heating->days_below_base = 220;
  s.heating->indoor_f = 68;
  s.heating->bills = HeatingBills{900, 100.0};
  s.money = MoneyWish{};
  s.money->life_years = 25;
  s.money->real_discount_rate_percent = 2;
  s.money->real_price_rise_percent = 1;
  s.money->tax_percent = 6;
  s.money->sealing_saving_per_year = 20;
  s.blower_door = BlowerDoor{2000, {}, 8.0, 1};
  s.sealing = {2.0, 10.0};
  s.site.storeys = 1;
  s.site.elevation_ft = 500;
  s.site.outdoor_mean_f = 45;
  s.site.outdoor_sd_f = 16;
  return s;
}

struct Row {
  std::string code;
  std::function<void(Survey&)> leave_out;
};

Section& floor_of_survey(Survey& s) { return s.sections[0]; }

Section wall(const char* size) {
  Section s;
  s.name = "wall";
  s.kind = SectionKind::knee_wall;
  s.area = square_feet(80);
  s.below = Below::heated;
  s.ceiling = Board{"gypsum-1/2", {}, {}};
  s.film_inside = s.film_attic = r_value(0.68);
  s.joists = Joists{size, {}, {}, inches(16), 0.1, r_per_inch(1.25)};
  s.target_r = r_value(13);
  s.add = batt_of(13, 3.5);
  s.add->thickness = inches(3.5);
  return s;
}

Section slope() {
  Section s = wall("2x6");
  s.name = "slope";
  s.kind = SectionKind::slope;
  s.vent_gap = inches(1);
  return s;
}

void bare_layer(Survey& s, Layer layer) {
  Section& floor = floor_of_survey(s);
  floor.layers = {std::move(layer)};
  for (Reading& r : floor.readings) r.depth = r.depth_to = inches(3.5);
}

/// Every default by itself.
const std::vector<Row> kRows = {
    {"below-heated", [](Survey& s) { floor_of_survey(s).below.reset(); }},
    {"default-ceiling", [](Survey& s) { floor_of_survey(s).ceiling.reset(); }},
    {"default-films", [](Survey& s) { floor_of_survey(s).film_inside.reset(); }},
    {"default-films", [](Survey& s) { floor_of_survey(s).film_attic.reset(); }},
    {"default-joists", [](Survey& s) { floor_of_survey(s).joists.reset(); }},
    {"default-spacing", [](Survey& s) { floor_of_survey(s).joists->spacing.reset(); }},
    {"nominal-size",
     [](Survey& s) {
       floor_of_survey(s).joists = Joists{"2x6", {}, {}, inches(16), 0.1, r_per_inch(1.25)};
     }},
    {"framing-from-joists", [](Survey& s) { floor_of_survey(s).joists->framing_fraction.reset(); }},
    {"wood", [](Survey& s) { floor_of_survey(s).joists->wood.reset(); }},
    {"equal-shares",
     [](Survey& s) {
       for (Reading& r : floor_of_survey(s).readings) r.share = -1;
     }},
    {"layer-thickness-as-depth",
     [](Survey& s) {
       floor_of_survey(s).readings.clear();
       floor_of_survey(s).layers[0].thickness = inches(5);
     }},
    {"label-r",
     [](Survey& s) {
       Layer l = layer_of("glass-fiber-batt");
       l.thickness = inches(3.5);
       l.lies = Lies::between;
       bare_layer(s, l);
     }},
    {"label-thickness-from-r",
     [](Survey& s) {
       Layer l = layer_of("glass-fiber-batt");
       l.label_r = r_value(11);
       l.lies = Lies::between;
       bare_layer(s, l);
     }},
    {"label-thickness",
     [](Survey& s) {
       Layer l = batt_of(11, 3.5);
       l.lies = Lies::between;
       bare_layer(s, l);
     }},
    {"lies-between",
     [](Survey& s) {
       Layer l = batt_of(11, 3.5);
       l.thickness = inches(3.5);
       bare_layer(s, l);
     }},
    {"void-share", [](Survey& s) { floor_of_survey(s).layers[0].condition = Condition::voids; }},
    {"low-of-range", [](Survey& s) { floor_of_survey(s).layers[0].material = "unknown-loose"; }},
    {"wet-counts-zero", [](Survey& s) { floor_of_survey(s).layers[0].condition = Condition::wet; }},
    {"saving-counts-dry",
     [](Survey& s) { floor_of_survey(s).layers[0].condition = Condition::wet; }},
    {"unevenness-unknown",
     [](Survey& s) {
       floor_of_survey(s).readings.resize(1);
       floor_of_survey(s).readings[0].share = 1;
     }},
    {"patch-bare", [](Survey& s) { floor_of_survey(s).patches[0].total_r.reset(); }},
    {"vent-gap", [](Survey& s) { floor_of_survey(s).eave->vent_gap.reset(); }},
    {"wall-films",
     [](Survey& s) {
       s.sections.push_back(wall("2x4"));
       s.sections.back().film_attic.reset();
     }},
    {"knee-wall-target",
     [](Survey& s) {
       s.sections.push_back(wall("2x4"));
       s.sections.back().target_r.reset();
     }},
    {"cavity-fill",
     [](Survey& s) {
       s.sections.push_back(wall("2x4"));
       s.sections.back().add.reset();
     }},
    {"cavity-dense",
     [](Survey& s) {
       s.sections.push_back(wall("2x4"));
       s.sections.back().add = Layer{};
       s.sections.back().add->material = "cellulose-loose";
     }},
    {"cavity-not-priced", [](Survey& s) { s.sections.push_back(wall("2x4")); }},
    {"vent-gap",
     [](Survey& s) {
       floor_of_survey(s).eave.reset();
       s.sections.push_back(slope());
       s.sections.back().vent_gap.reset();
     }},
    {"hatch-opening", [](Survey& s) { s.sections.push_back(hatch_section(6, 3)); }},
    {"hatch-plan",
     [](Survey& s) {
       s.sections.push_back(hatch_section(6, 3));
       s.sections.back().after_insulation_r = r_value(20);
     }},
    {"default-proposal", [](Survey& s) { s.proposal.reset(); }},
    {"no-waste", [](Survey& s) { s.proposal->waste_percent.reset(); }},
    {"default-bag", [](Survey& s) { s.proposal->bag_net.reset(); }},
    {"extras-in-measure", [](Survey& s) { s.proposal->extras[0].part.reset(); }},
    {"sealing-not-priced", [](Survey& s) { s.proposal->extras[1].part = CostPart::safety; }},
    {"no-tax", [](Survey& s) { s.money->tax_percent.reset(); }},
    {"band-one-given", [](Survey& s) { s.target.high.reset(); }},
    {"band-one-given", [](Survey& s) { s.target.low.reset(); }},
    {"basis-working", [](Survey& s) { s.target.basis.reset(); }},
    {"default-target",
     [](Survey& s) {
       s.target.low.reset();
       s.target.high.reset();
     }},
    {"zone-given",
     [](Survey& s) {
       s.target.low.reset();
       s.target.high.reset();
       s.site.climate_zone = "5";
     }},
    {"zone-from-degree-days",
     [](Survey& s) {
       s.target = {};
       s.site.hdd65_f_day = 6000;
       s.site.cdd50_f_day = 2500;
     }},
    {"degree-days-half",
     [](Survey& s) {
       s.target = {};
       s.site.hdd65_f_day = 6000;
     }},
    {"plain-degree-days", [](Survey& s) { s.heating->days_below_base.reset(); }},
    {"no-degree-days",
     [](Survey& s) {
       s.heating->hdd_f_day.reset();
       s.heating->base_f.reset();
     }},
    {"degree-days-of-site",
     [](Survey& s) {
       s.heating->hdd_f_day.reset();
       s.heating->base_f.reset();
       s.site.hdd65_f_day = 6000;
     }},
    {"no-energy-price", [](Survey& s) { s.heating->price_per_unit.reset(); }},
    {"co2-not-known",
     [](Survey& s) {
       s.heating->fuel = "electricity";
       s.heating->efficiency = 1;
     }},
    {"bills-no-base-load", [](Survey& s) { s.heating->bills->base_load_units.reset(); }},
    {"default-life", [](Survey& s) { s.money->life_years.reset(); }},
    {"default-discount-rate", [](Survey& s) { s.money->real_discount_rate_percent.reset(); }},
    {"constant-price", [](Survey& s) { s.money->real_price_rise_percent.reset(); }},
    {"sealing-not-counted", [](Survey& s) { s.money->sealing_saving_per_year.reset(); }},
    {"sealing-saving-tested",
     [](Survey& s) {
       s.money->sealing_saving_per_year.reset();
       s.blower_door->cfm50_after = 1500;
     }},
    {"wind-speed", [](Survey& s) { s.blower_door->wind_mph.reset(); }},
    {"sealing-saving-unusable", [](Survey& s) { s.heating->price_per_unit.reset(); }},
    {"cooling-rise",
     [](Survey& s) {
       s.cooling = Cooling{3.0, {}, 5000, 900};
     }},
    {"cooling-no-hours",
     [](Survey& s) {
       s.cooling = Cooling{3.0, {}, 5000, {}};
     }},
    {"cooling-no-degree-hours",
     [](Survey& s) {
       s.cooling = Cooling{3.0, {}, {}, 900};
     }},
    {"unvented-attic", [](Survey& s) { s.site.attic = AtticKind::unvented; }},
    {"unvented-no-roof", [](Survey& s) { s.site.attic = AtticKind::unvented; }},
    {"unvented-no-cooling",
     [](Survey& s) {
       s.site.attic = AtticKind::unvented;
       s.cooling = Cooling{3.0, {}, 5000, 900};
     }},
    {"unvented-roof",
     [](Survey& s) {
       s.site.attic = AtticKind::unvented;
       s.site.roof_r = r_value(9);
       s.site.roof_area = square_feet(1300);
     }},
    {"attic-balance", [](Survey& s) { s.site.attic_air.reset(); }},
    {"attic-shape", [](Survey& s) { s.site.attic_air.reset(); }},
    {"attic-roof-r", [](Survey& s) { s.site.attic_air.reset(); }},
    {"attic-air-changes", [](Survey& s) { s.site.attic_air.reset(); }},
    {"attic-sea-level",
     [](Survey& s) {
       s.site.attic_air.reset();
       s.site.elevation_ft.reset();
     }},
    {"no-sealant-waste", [](Survey& s) { s.sealing.waste_percent.reset(); }},
    {"foam-as-caulk", [](Survey& s) { s.sealing.foam_board_ft_per_can.reset(); }},
    {"square-rim",
     [](Survey& s) {
       floor_of_survey(s).bypasses[0] = {"open-chase", "bath", 1, {}, {}, square_feet(3)};
     }},
    {"bypass-size",
     [](Survey& s) { floor_of_survey(s).bypasses[0] = {"hatch", "hall", 1, {}, {}, {}}; }},
    {"one-storey", [](Survey& s) { s.site.storeys.reset(); }},
    {"leak-sea-level", [](Survey& s) { s.site.elevation_ft.reset(); }},
    {"leak-temperatures", [](Survey& s) { s.heating->indoor_f.reset(); }},
    {"vented-area",
     [](Survey& s) {
       s.ventilation = VentilationSurvey{square_feet(2), square_feet(2), {}, {}, {}};
     }},
    {"edge-dams",
     [](Survey& s) {
       Section met = loose_section({20, 20});
       met.name = "met";
       s.sections.push_back(met);
     }},
};

double assumed(const Evaluation& e, std::string_view code) {
  for (const Assumption& a : e.findings.assumptions)
    if (tables().assumptions[a.row].code == code)
      for (const NamedValue& v : a.values)
        if (const double* number = std::get_if<double>(&v.value);
            number != nullptr && v.name == "value")
          return *number;
  return -1;
}

}  // namespace

// Invariant: the rule of the result: every default used is a row of the list, and nothing that was
// told is called a default.
TEST_CASE("assumptions: each is listed where it was taken, and only there") {
  const Evaluation all = run(told());
  for (const Row& row : kRows) {
    CAPTURE(row.code);
    Survey survey = told();
    row.leave_out(survey);
    CHECK_FALSE(assumes(all, row.code));
    CHECK(assumes(run(survey), row.code));
  }
}

// Invariant: what holds of any survey of the kind is listed in each: how it is blown, by what
// method, from which rows.
TEST_CASE("assumptions: what always holds is always listed") {
  const Evaluation all = run(told());
  for (const char* code :
       {"material-r", "settling", "density-high", "framing-deducted", "level-step", "even-blow",
        "framing-method", "vented-attic", "ranges", "fuel-heat", "leak-height", "leak-heat-range",
        "house-form", "sealing-saving-given", "eave-as-read"})
    CHECK_MESSAGE(assumes(all, code), code);
  Survey chart = with_chart(told());
  CHECK(assumes(run(chart), "settling-of-chart"));
  CHECK(assumes(run(chart), "chart-net-of-framing"));
  CHECK_FALSE(assumes(run(chart), "framing-deducted"));
  CHECK_FALSE(assumes(run(chart), "settling"));
  chart.proposal->product->chart_deducts_framing = false;
  CHECK(assumes(run(chart), "framing-deducted"));
  CHECK_FALSE(assumes(run(chart), "chart-net-of-framing"));
}

// Invariant: foam stands in for caulk only where something is to be caulked: a lid takes
// weatherstrip.
TEST_CASE("assumptions: a hatch alone takes no caulk") {
  Survey s = survey_of({loose_section({4, 4})});
  s.sections[0].bypasses = {{"hatch", "hall", 1, inches(30), inches(24), {}}};
  REQUIRE(run(s).plan.sealing.totals.tubes_small == 0.0);
  CHECK_FALSE(assumes(run(s), "foam-as-caulk"));
  CHECK(assumes(run(s), "no-sealant-waste"));
}

// Source: data/materials.json: cellulose settles by 20 % at most. A chart without initial
// thicknesses takes it from the material.
TEST_CASE("assumptions: the settling that is listed is percent") {
  const Survey plain = survey_of({loose_section({4, 4})});
  near(assumed(run(plain), "settling"), 20, kNoise);
  std::vector<ChartRow> rows = invented_rows();
  for (ChartRow& row : rows) row.initial.reset();
  Survey chart = with_chart(plain, rows);
  chart.proposal->material = "cellulose-loose";
  near(assumed(run(chart), "settling"), 20, kNoise);
}

// Invariant: what differs in its values is another thing: two batts without labels are two
// defaults. What is alike is said once.
TEST_CASE("assumptions: the same default with other values is listed again") {
  Section s = flat_section();
  s.layers = {layer_of("glass-fiber-batt"), layer_of("glass-fiber-batt"),
              layer_of("glass-fiber-batt")};
  s.layers[0].thickness = s.layers[2].thickness = inches(3.5);
  s.layers[1].thickness = inches(6.25);
  s.readings = {reading_of(13.25)};
  const Evaluation e = run(survey_of({s}));
  const auto rows = std::count_if(
      e.findings.assumptions.begin(), e.findings.assumptions.end(),
      [](const Assumption& a) { return tables().assumptions[a.row].code == "label-r"; });
  CHECK(rows == 2);
}
