// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <functional>
#include <set>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

/// A survey in which nothing but the standing cautions can be said: 10 in. of stiff board that
/// meets the target, a product with its own chart, a ceiling with a known limit.
Survey quiet() {
  Section s = flat_section();
  s.layers = {layer_of("xps-board")};
  s.layers[0].thickness = inches(11);
  for (int i = 0; i < 6; ++i) s.readings.push_back(reading_of(11));
  return with_chart(survey_of({s}));
}

Section& flat(Survey& s) { return s.sections[0]; }

void put_loose(Survey& s, std::vector<double> depths,
               const std::string& material = "cellulose-loose") {
  flat(s) = loose_section(depths, material);
}

void add_cavity(Survey& s, SectionKind kind) {
  Section c;
  c.name = "cavity";
  c.kind = kind;
  c.area = square_feet(100);
  c.below = Below::heated;
  s.sections.push_back(c);
}

/// Gas heat with a season; nothing is priced.
void heat(Survey& s) {
  s.heating = Heating{};
  s.heating->fuel = "natural-gas";
  s.heating->efficiency = 0.8;
  s.heating->hdd_f_day = 6000;
  s.heating->base_f = 65;
}

void propose(Survey& s, const std::string& material) {
  s.proposal = Proposal{};
  s.proposal->material = material;
}

/// 5.5 in. of cellulose, and one invented batt or board of 10 in. on top.
void list(Survey& s, const std::string& material) {
  put_loose(s, {5.5});
  s.proposal = Proposal{};
  BattProduct p;
  p.name = "invented";
  p.material = material;
  p.thickness = inches(10);
  p.coverage = square_feet(50);
  s.proposal->batts = {p};
}

struct Case {
  const char* code;
  std::function<void(Survey&)> change;  ///< what makes the quiet survey raise it
};

/// One case for each caution that follows from a survey; hazards and standing ones are taken from
/// the table itself.
const std::vector<Case>& cases() {
  static const std::vector<Case> all = {
      {"vermiculite", [](Survey& s) { put_loose(s, {12}, "vermiculite"); }},
      {"hands-off", [](Survey& s) { put_loose(s, {12}, "vermiculite"); }},
      {"depth-left-alone",
       [](Survey& s) {
         flat(s).layers = {layer_of("vermiculite")};
         flat(s).readings.clear();
       }},
      {"spoiled-layer-unknown",
       [](Survey& s) {
         flat(s).layers.push_back(batt_of(11, 3.5));
         s.hazards = {{"wet-insulation", flat(s).name, "", "", ""}};
       }},
      {"spoiled-place-unknown",
       [](Survey& s) {
         s.hazards = {{"wet-insulation", "by the chimney", "", "", ""}};
       }},
      {"soiled-insulation", [](Survey& s) { flat(s).layers[0].condition = Condition::soiled; }},
      {"ceiling-weight", [](Survey& s) { put_loose(s, {0}), propose(s, "cellulose-loose"); }},
      {"ceiling-weight-at-least",
       [](Survey& s) {
         flat(s).layers = {batt_of(11, 3.5)}, propose(s, "cellulose-loose");
         s.target.high = r_value(80);
       }},
      {"ceiling-assumed", [](Survey& s) { flat(s).ceiling.reset(); }},
      {"wider-spacing", [](Survey& s) { flat(s).ceiling.reset(); }},
      {"hatch-plan-lower",
       [](Survey& s) {
         s.sections.push_back(hatch_section(10, 20));
         s.sections.back().after_insulation_r = r_value(5);
       }},
      {"zone-contradicts",
       [](Survey& s) {
         s.site.climate_zone = "3";
         s.site.hdd65_f_day = 7500;
         s.site.cdd50_f_day = 2000;
       }},
      {"ceiling-thin", [](Survey& s) { flat(s).ceiling = Board{"gypsum-3/8", {}, {}}; }},
      {"ceiling-thin", [](Survey& s) { flat(s).ceiling = Board{"gypsum-1/2", inches(0.375), {}}; }},
      {"open-to-vapor",
       [](Survey& s) {
         flat(s).layers = {batt_of(11, 3.5)};
         flat(s).layers[0].material = "hemp-batt";
       }},
      {"test-great-fall", [](Survey& s) { s.blower_door = BlowerDoor{2000, 1300, {}, {}}; }},
      {"test-no-fall", [](Survey& s) { s.blower_door = BlowerDoor{2000, 2000, {}, {}}; }},
      {"sealing-bound-unused",
       [](Survey& s) {
         s = priced_with_gas(s);
         s.money = MoneyWish{};
         s.money->accept_sealing_upper_bound = true;
       }},
      {"facing-unknown", [](Survey& s) { flat(s).layers[0].facing = Facing::unknown; }},
      {"removal", [](Survey& s) { flat(s).layers[0].condition = Condition::remove; }},
      {"removal-below",
       [](Survey& s) {
         flat(s).layers[0].condition = Condition::remove;
         flat(s).layers[0].thickness = inches(4);
         flat(s).layers.push_back(layer_of("xps-board"));
         flat(s).layers[1].thickness = inches(6);
       }},
      {"soffit-closed", [](Survey& s) {
          s.site.attic = AtticKind::unvented, s.hazards = {{"blocked-soffit", "", "", "", ""}}; }},
      {"facing-under-deck",
       [](Survey& s) {
         flat(s).layers[0].facing = Facing::kraft;
         flat(s).layers[0].facing_side = FacingSide::attic;
         flat(s).kind = SectionKind::decked;
       }},
      {"gap-below-deck", [](Survey& s) { put_loose(s, {4}), flat(s).kind = SectionKind::decked; }},
      {"gap-below-batt",
       [](Survey& s) {
         flat(s).layers = {layer_of("cellulose-loose"), batt_of(30, 10)};
         flat(s).layers[0].thickness = inches(3);
         flat(s).layers[1].lies = Lies::across;
       }},
      {"worse-than-found",
       [](Survey& s) {
         put_loose(s, {12}), flat(s).layers[0].condition = Condition::remove;
         flat(s).headroom = inches(2);
       }},
      {"target-out-of-reach", [](Survey& s) { put_loose(s, {4}), flat(s).headroom = inches(8); }},
      {"ceiling-limit-unknown",
       [](Survey& s) {
         flat(s).ceiling = Board{"plaster-lath", {}, {}};
       }},
      {"facing-cold-side",
       [](Survey& s) {
         flat(s).layers[0].facing = Facing::kraft;
         flat(s).layers[0].facing_side = FacingSide::attic;
       }},
      {"dew-point-risk",
       [](Survey& s) {
         flat(s).layers[0].facing = Facing::kraft;
         flat(s).layers[0].facing_side = FacingSide::attic;
         s.winter = WinterSurvey{70, 90, 0};
       }},
      {"buried-facing",
       [](Survey& s) {
         flat(s).layers.push_back(batt_of(11, 3.5));
         flat(s).layers[1].facing = Facing::kraft;
         for (Reading& r : flat(s).readings) r = reading_of(13.5);
       }},
      {"facing-bare",
       [](Survey& s) {
         flat(s).layers[0].facing = Facing::kraft;
         flat(s).layers[0].facing_side = FacingSide::attic;
         s.winter = WinterSurvey{70, 20, 40};
       }},
      {"facing-off",
       [](Survey& s) {
         flat(s).layers[0].facing = Facing::foil;
         flat(s).layers[0].facing_side = FacingSide::attic;
         s.winter = WinterSurvey{70, 90, 0};
       }},
      {"foam-found",
       [](Survey& s) {
         flat(s).layers[0].material = "spray-foam-closed";
       }},
      {"hatch-below-attic", [](Survey& s) { s.sections.push_back(hatch_section(10, 2)); }},
      {"batt-thicker-than-joist", [](Survey& s) { flat(s).layers = {batt_of(30, 10)}; }},
      {"batt-missing",
       [](Survey& s) {
         flat(s).layers = {batt_of(19, 6.25), batt_of(11, 3.5)},
             flat(s).readings = {reading_of(9.75), reading_of(2)};
       }},
      {"batt-below-half",
       [](Survey& s) {
         flat(s).layers = {batt_of(19, 6.25)}, flat(s).readings = {reading_of(6.25), reading_of(2)};
       }},
      {"label-ratio", [](Survey& s) { flat(s).layers = {batt_of(30, 6)}; }},
      {"few-readings",
       [](Survey& s) {
         put_loose(s, {12, 12, 12, 12});
       }},
      {"scattered-readings",
       [](Survey& s) {
         put_loose(s, {6, 8, 12, 16, 18});
       }},
      {"no-density",
       [](Survey& s) {
         put_loose(s, {4}), propose(s, "own");
         Material m;
         m.id = m.name = "own";
         m.typical = r_per_inch(3);
         m.settling_high = 0.1;
         s.materials = {m};
       }},
      {"combustion-test",
       [](Survey& s) {
         flat(s).bypasses = {{"flue", "", 1, {}, {}, {}}};
       }},
      {"leak-unknown",
       [](Survey& s) {
         flat(s).bypasses = {{"dropped-soffit", "", 0, {}, {}, square_feet(9)}};
       }},
      {"bypass-not-measured",
       [](Survey& s) {
         flat(s).bypasses = {{"top-plate", "", 0, {}, {}, {}}};
       }},
      {"vents-unknown", [](Survey& s) { s.ventilation = VentilationSurvey{}; }},
      {"vents-short",
       [](Survey& s) {
         s.ventilation = VentilationSurvey{};
         s.ventilation->low = s.ventilation->high = Area{};
       }},
      {"lead-paint", [](Survey& s) { s.site.year_built = 1977; }},
      {"unknown-fill", [](Survey& s) { put_loose(s, {12}, "unknown-loose"); }},
      {"existing-weight-unknown", [](Survey& s) { flat(s).layers = {batt_of(38, 12)}; }},
      {"exposed-joists", [](Survey& s) { put_loose(s, {4}); }},
      {"squeezed-batt", [](Survey& s) {
          flat(s).layers = {batt_of(19, 6.25)}, flat(s).readings = {reading_of(5.5)}; }},
      {"reading-above-layers", [](Survey& s) {
          flat(s).layers = {batt_of(19, 6.25)}, flat(s).readings = {reading_of(9)}; }},
      {"generic-product", [](Survey& s) { propose(s, "cellulose-loose"); }},
      {"chart-below-first-row", [](Survey& s) { put_loose(s, {10}); }},
      {"settled-below-joists",
       [](Survey& s) {
         put_loose(s, {0}), propose(s, "cellulose-loose"), flat(s).joists->size = "2x10";
         s.target = {r_value(11), r_value(11), Basis::working};
       }},
      {"open-glass-fiber", [](Survey& s) { put_loose(s, {20}, "glass-fiber-loose"); }},
      {"heavy-over-light", [](Survey& s) {
          flat(s).layers = {batt_of(11, 3.5)}, propose(s, "cellulose-loose"); }},
      {"wind-wash", [](Survey& s) { put_loose(s, {15}); }},
      {"truss-webs", [](Survey& s) { flat(s).joists->member = Member::truss_chord; }},
      {"savings-vary", heat},
      {"bills-too-low",
       [](Survey& s) {
         heat(s);
         s.heating->bills = HeatingBills{10, {}};
       }},
      {"cooling-uncertain",
       [](Survey& s) {
         s.cooling = Cooling{};
         s.cooling->cop = 3;
         s.cooling->hours = 900;
       }},
      {"unheated-below", [](Survey& s) { flat(s).below = Below::unheated; }},
      {"storage-deck", [](Survey& s) { flat(s).kind = SectionKind::decked; }},
      {"buried-duct",
       [](Survey& s) {
         s.equipment = {{EquipmentKind::duct, "", {}, {}, {}, {}}};
       }},
      {"pipe-freezes",
       [](Survey& s) {
         s.equipment = {{EquipmentKind::pipe, "", {}, {}, {}, {}}};
       }},
      {"fan-end-unknown",
       [](Survey& s) {
         s.equipment = {{EquipmentKind::fan, "", {}, {}, {}, {}}};
       }},
      {"dropped-soffit", [](Survey& s) { flat(s).kind = SectionKind::dropped_soffit; }},
      {"stair-box", [](Survey& s) {
          s.sections.push_back(hatch_section(10, 50)),
              s.sections.back().kind = SectionKind::pull_down_stair; }},
      {"knee-wall-bays", [](Survey& s) { add_cavity(s, SectionKind::knee_wall); }},
      {"knee-wall-open", [](Survey& s) { add_cavity(s, SectionKind::knee_wall); }},
      {"slope-unvented", [](Survey& s) {
          add_cavity(s, SectionKind::slope), s.sections.back().vent_gap = Length{}; }},
      {"cavity-weight-unknown", [](Survey& s) {
          add_cavity(s, SectionKind::slope), s.sections.back().add = batt_of(13, 3.5); }},
      {"dense-pack", [](Survey& s) {
          add_cavity(s, SectionKind::slope), s.sections.back().add = layer_of("cellulose-dense"); }},
      {"spray-foam", [](Survey& s) { put_loose(s, {0}), propose(s, "spray-foam-closed"); }},
      {"foam-board-cover", [](Survey& s) { list(s, "xps-board"); }},
      {"board-cold-side", [](Survey& s) { list(s, "xps-board"); }},
      {"batts-crosswise", [](Survey& s) { list(s, "glass-fiber-batt"); }},
      {"batt-weight-unknown", [](Survey& s) { list(s, "glass-fiber-batt"); }},
      {"batts-at-eave",
       [](Survey& s) {
         list(s, "glass-fiber-batt");
         flat(s).eave = EaveSurvey{inches(6), 6.0, inches(480), {}, {}};
       }},
      {"eave-all", [](Survey& s) {  // 1,000 ft of eave along 1,000 ft2 or so
         put_loose(s, {0});
         flat(s).eave = EaveSurvey{inches(6), 6.0, inches(12 * flat(s).area.us()), {}, {}};
       }},
      {"eave-short", [](Survey& s) {
         put_loose(s, {0});
         flat(s).eave = EaveSurvey{inches(6), 6.0, inches(480), {}, {}};
       }}};
  return all;
}

Hazard hazard_of(const std::string& kind) { return {kind, "north end", "", "", ""}; }

const Caution* find(const Evaluation& e, std::string_view code) {
  const auto at =
      std::find_if(e.findings.cautions.begin(), e.findings.cautions.end(),
                   [&](const Caution& c) { return tables().cautions[c.row].code == code; });
  return at == e.findings.cautions.end() ? nullptr : &*at;
}

std::string text_value(const Caution& c, std::string_view name) {
  for (const NamedValue& v : c.values)
    if (v.name == name) return std::get<std::string>(v.value);
  return "";
}

}  // namespace

// Invariant: the quiet survey says what every attic is told and nothing else: this is the input
// that does not raise any of the others.
TEST_CASE("cautions: a quiet survey raises the standing ones and no more") {
  const Evaluation e = run(quiet());
  std::set<std::string> said, standing;
  for (const Caution& c : e.findings.cautions) said.insert(tables().cautions[c.row].code);
  for (const CautionRow& row : tables().cautions)
    if (row.standing) standing.insert(row.code);
  CHECK(said == standing);
  CHECK(standing.size() == 5);
  CHECK_FALSE(e.stopped());
}

// Invariant: every row of the table is raised by something that a survey can say; a row without a
// case fails here. Rows that come from the table of plausible figures have theirs in
// test_plausible.cpp.
TEST_CASE("cautions: every row of the table has a case") {
  for (const CautionRow& row : tables().cautions) {
    CAPTURE(row.code);
    const auto& doubts = tables().plausible;
    if (std::any_of(doubts.begin(), doubts.end(),
                    [&](const PlausibleRow& p) { return p.code == row.code; }))
      continue;
    const bool has_case = std::any_of(cases().begin(), cases().end(),
                                      [&](const Case& c) { return row.code == c.code; });
    CHECK((row.standing || !row.hazard_kinds.empty() || has_case));
  }
}

// Source: tests/reference/SOURCES.md#caution-table: the rows of the caution table; the quiet survey
// changed in one thing raises the row, at its level.
TEST_CASE("cautions: what a survey shows raises its row") {
  const Evaluation before = run(quiet());
  for (const Case& c : cases()) {
    INFO("case ", std::string(c.code));
    CHECK_FALSE(raises(before, c.code));
    Survey survey = quiet();
    c.change(survey);
    const Evaluation e = run(survey);
    const Caution* caution = find(e, c.code);
    REQUIRE(caution != nullptr);
    CHECK(caution->level == tables().cautions[caution->row].level);
    CHECK_FALSE(caution->cleared);
  }
}

// Source: tests/reference/SOURCES.md#caution-table: each hazard word raises its own row at its
// level and place; no other hazard's row comes with it. What is taken as asbestos also says that
// hands are kept off; spoiled insulation in no section is asked after.
TEST_CASE("cautions: every hazard word raises its row and no other") {
  const std::size_t standing = run(quiet()).findings.cautions.size();
  for (const CautionRow& row : tables().cautions)
    for (const std::string& kind : row.hazard_kinds) {
      CAPTURE(kind);
      Survey survey = quiet();
      survey.hazards = {hazard_of(kind)};
      const Evaluation e = run(survey);
      const bool with_word = row.hands_off || row.code == "soiled-insulation";
      CHECK(raises(e, row.hands_off ? "hands-off" : "spoiled-place-unknown") == with_word);
      CHECK(e.findings.cautions.size() == standing + 1 + (with_word ? 1 : 0));
      const Caution* caution = find(e, row.code);
      REQUIRE(caution != nullptr);
      CHECK(caution->level == row.level);
      CHECK(caution->where == "north end");
      CHECK(e.stopped() == (row.level == CautionLevel::stop));
    }
}

// Hand derivation: cleared by person, date and paper: the row stays, as a note that names all
// three, and stops nothing.
TEST_CASE("cautions: a cleared hazard becomes a note that names person, date and paper") {
  for (const CautionRow& row : tables().cautions)
    for (const std::string& kind : row.hazard_kinds) {
      CAPTURE(kind);
      Survey survey = quiet();
      survey.hazards = {{kind, "north end", "J. Doe, electrician", "2026-05-04", "certificate 12"}};
      const Evaluation e = run(survey);
      const Caution* caution = find(e, row.code);
      REQUIRE(caution != nullptr);
      CHECK(caution->cleared);
      CHECK(caution->level == CautionLevel::note);
      CHECK(text_value(*caution, "by") == "J. Doe, electrician");
      CHECK(text_value(*caution, "date") == "2026-05-04");
      CHECK(text_value(*caution, "paper") == "certificate 12");
      CHECK_FALSE(e.stopped());
    }
}

// Hand derivation: without any one of the three nothing is cleared.
TEST_CASE("cautions: incomplete clearing leaves the hazard at its level") {
  const std::vector<Hazard> partly = {{"knob-and-tube", "", "", "2026-05-04", "certificate 12"},
                                      {"knob-and-tube", "", "J. Doe", "", "certificate 12"},
                                      {"knob-and-tube", "", "J. Doe", "2026-05-04", ""}};
  for (const Hazard& hazard : partly) {
    Survey survey = quiet();
    survey.hazards = {hazard};
    const Evaluation e = run(survey);
    CHECK(e.stopped());
    const Caution* caution = find(e, "live-knob-and-tube");
    REQUIRE(caution != nullptr);
    CHECK_FALSE(caution->cleared);
    CHECK(caution->where == "attic");
  }
}

// Hand derivation: the same thing at the same place is said once, at two places twice; a cleared
// and a live one both stand.
TEST_CASE("cautions: each thing is said once for each place") {
  Survey survey = quiet();
  survey.hazards = {hazard_of("bats"),
                    hazard_of("bats"),
                    hazard_of("droppings"),
                    {"bats", "south end", "", "", ""},
                    {"bats", "south end", "warden", "2026-05-04", "note 3"}};
  const Evaluation e = run(survey);
  const auto count =
      std::count_if(e.findings.cautions.begin(), e.findings.cautions.end(),
                    [](const Caution& c) { return tables().cautions[c.row].code == "animals"; });
  CHECK(count == 3);
  CHECK(e.stopped());
}

// Invariant: stop first, then fix-first, care and note; table order within a level; also with
// everything at once.
TEST_CASE("cautions: sorted by level, then by the table") {
  Survey survey = quiet();
  for (const CautionRow& row : tables().cautions)
    for (const std::string& kind : row.hazard_kinds) survey.hazards.push_back(hazard_of(kind));
  std::reverse(survey.hazards.begin(), survey.hazards.end());
  survey.hazards.push_back({"knob-and-tube", "south end", "J. Doe", "2026-05-04",
                            "certificate 12"});  // a note from the table's first row
  survey.sections.push_back(hatch_section(10, 2));
  const Evaluation e = run(survey);
  CHECK(std::is_sorted(e.findings.cautions.begin(), e.findings.cautions.end(),
                       [](const Caution& a, const Caution& b) {
                         return a.level != b.level ? a.level < b.level : a.row < b.row;
                       }));
  CHECK(e.findings.cautions.front().level == CautionLevel::stop);
  CHECK(e.findings.cautions.back().level == CautionLevel::note);
}

// Hand derivation: numbers stay under a stop-work condition; only a banner is added.
TEST_CASE("cautions: a stop takes no number away") {
  Survey survey = survey_of({loose_section({4})});
  const Evaluation before = run(survey);
  survey.hazards = {hazard_of("knob-and-tube")};
  const Evaluation e = run(survey);
  CHECK(e.stopped());
  CHECK(e.planned.low.sections[0].initial_level == before.planned.low.sections[0].initial_level);
  CHECK(*e.planned.low.totals.bags == *before.planned.low.totals.bags);
}

// Hand derivation: the bounds of the rules: 1978 is past, 5 readings are enough, depth just at the
// joist top is not proud of it.
TEST_CASE("cautions: at its bound a rule is silent") {
  Survey survey = quiet();
  survey.site.year_built = 1978;
  CHECK_FALSE(raises(run(survey), "lead-paint"));
  put_loose(survey, {12, 12, 12, 12, 12});
  CHECK_FALSE(raises(run(survey), "few-readings"));
  CHECK_FALSE(raises(run(survey), "scattered-readings"));
  put_loose(survey, {5.5});
  CHECK_FALSE(raises(run(survey), "exposed-joists"));
}
