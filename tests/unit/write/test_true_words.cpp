// SPDX-License-Identifier: MIT
// No word of a result states what the survey did not say or denies: requirements are no facts, and
// a text speaks only of what is there.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "fixtures.hpp"
#include "overjoist/report.hpp"
#include "overjoist/survey_json.hpp"

using namespace fixtures;

namespace {

const Caution* find(const Evaluation& e, std::string_view code) {
  for (const Caution& c : e.findings.cautions)
    if (tables().cautions[c.row].code == code) return &c;
  return nullptr;
}

/// All words in one line each, so that a line break parts no sentence.
std::string one_line(const std::string& text) {
  std::istringstream in(text);
  std::string out, word;
  while (in >> word) out += (out.empty() ? "" : " ") + word;
  return out;
}

/// Every text for people that a survey gets: report, order of either end, page, JSON.
std::string all_words(const Survey& survey) {
  const Evaluation e = run(survey);
  std::string text, order, page, json;
  write_text(text, e, tables(), {});
  OrderStyle style;
  write_order_text(order, e, tables(), style);
  write_html(page, e, tables(), Units::us);
  write_json(json, e, tables(), {});
  return one_line(text + order + page + json);
}
bool says(const std::string& all, std::string_view words) {
  return all.find(words) != std::string::npos;
}

Bypass fan_of(const char* kind, const char* where = "") {
  Bypass b;
  b.kind = kind;
  b.where = where;
  b.count = 1;
  return b;
}

Survey with_fan(Bypass fan) {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4})});
  s.sections[0].bypasses = {std::move(fan)};
  return s;
}

Survey faced(double r_below, FacingSide side, std::optional<WinterSurvey> winter) {
  Section s = flat_section();
  s.layers = {batt_of(11, 3.5)};
  if (r_below > 0) s.layers.insert(s.layers.begin(), layer_of("cellulose-loose"));
  if (r_below > 0) s.layers[0].thickness = inches(r_below / 3.5);
  s.layers.back().facing = Facing::kraft;
  s.layers.back().facing_side = side;
  Survey survey = survey_of({s});
  survey.winter = winter;
  return survey;
}

Survey slope_of(std::vector<Layer> layers, double gap_in) {
  Section s;
  s.name = "slope";
  s.kind = SectionKind::slope;
  s.area = square_feet(600);
  s.below = Below::heated;
  s.joists = Joists{};
  s.joists->size = "2x12";
  s.vent_gap = inches(gap_in);
  s.layers = std::move(layers);
  return survey_of({s});
}

Layer thick(const char* material, double in) {
  Layer layer = layer_of(material);
  layer.thickness = inches(in);
  return layer;
}

}  // namespace

// Symptom: "its duct is insulated and ends outdoors" beside a fan that ends in the attic; cause:
// what is to be done was worded as a fact. Common practice: exhaust ends outdoors, and a fan that
// ends in the attic stops the work. Invariant: it is asked of a bypass as of `equipment`, once,
// unless a fan of the equipment at that place or a hazard says it.
TEST_CASE(
    "true words: where an exhaust fan ends is asked, answered by the bypass, the equipment or a "
    "hazard, and never taken for granted") {
  Survey s = with_fan(fan_of("bath-fan"));
  CHECK(raises(run(s), "fan-end-unknown"));
  CHECK_FALSE(says(all_words(s), "ends outdoors"));
  CHECK(says(all_words(s), "nsulate its duct and lead it outdoors"));
  CHECK(raises(run(with_fan(fan_of("kitchen-fan"))), "fan-end-unknown"));
  CHECK_FALSE(raises(run(with_fan(fan_of("duct-boot"))), "fan-end-unknown"));
  s.sections[0].bypasses[0].ends_outdoors = true;
  CHECK_FALSE(raises(run(s), "fan-end-unknown"));
  s.sections[0].bypasses[0].ends_outdoors = false;
  const Evaluation in_attic = run(s);
  CHECK(raises(in_attic, "vent-into-attic"));
  CHECK_FALSE(raises(in_attic, "fan-end-unknown"));
  CHECK(in_attic.stopped());
  s = with_fan(fan_of("bath-fan", "hall bath"));
  s.equipment = {{EquipmentKind::fan, "hall bath", {}, {}, {}, true}};
  CHECK_FALSE(raises(run(s), "fan-end-unknown"));
  s.equipment[0].where = "kitchen";
  CHECK(raises(run(s), "fan-end-unknown"));
  s.equipment.clear();
  s.hazards = {{"fan-into-attic", "hall bath", "", "", ""}};
  CHECK_FALSE(raises(run(s), "fan-end-unknown"));
}

// Symptom: the new key was not known; cause: a bypass could not say where its fan ends. Invariant:
// as of equipment, it is for fans only.
TEST_CASE("true words: ends_outdoors of a bypass is read, and refused where there is no fan") {
  const auto read = [](const char* kind) {
    return read_survey(
        std::string(
            R"({"format":"overjoist-survey","version":1,"sections":[{"name":"a","kind":"flat","area_ft2":9,
      "readings":[0],"bypasses":[{"kind":")") +
            kind + R"(","ends_outdoors":false}]}]})",
        tables());
  };
  const SurveyRead fan = read("bath-fan");
  REQUIRE(fan.survey);
  CHECK(fan.survey->sections[0].bypasses[0].ends_outdoors == false);
  CHECK_FALSE(read("wire-hole").survey);
}

// Symptom: a plaster ceiling was told what gypsum carries; cause: one text for every board. Source:
// data/limits.json: only gypsum has limits; the same half-inch board carries 2.2 lb/ft2 at 16 in.
// and 1.3 at 24 in.
TEST_CASE("true words: only a gypsum ceiling is told of gypsum's weight limits") {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4})});
  s.sections[0].joists->spacing.reset();
  const Evaluation gypsum = run(s);
  REQUIRE(find(gypsum, "wider-spacing"));
  CHECK(raises(gypsum, "ceiling-assumed"));
  CHECK(says(all_words(s), "only 1.3 lb/ft2 at 24 in. on center"));
  s.sections[0].ceiling = Board{"plaster-lath", {}, {}};
  CHECK(raises(run(s), "ceiling-assumed"));
  CHECK_FALSE(says(all_words(s), "gypsum"));
  s.sections[0].ceiling = Board{"gypsum-1/2", {}, {}};
  s.sections[0].joists->spacing = inches(24);
  CHECK_FALSE(raises(run(s), "wider-spacing"));
}

// Symptom: "Facing on closed-cell spray foam stays colder ... take it off", and no word on the
// foam; cause: one text for facings and tight layers, and cavities raised no foam caution.
// Invariant: who has no facing is not told of one; foam that is put in is told as on floors.
TEST_CASE("true words: foam in a slope has no facing, and is cautioned as foam") {
  Survey s = slope_of({thick("glass-fiber-batt", 9.25), thick("spray-foam-closed", 2)}, 0);
  s.winter = WinterSurvey{70, 35, 15};
  const Evaluation e = run(s);
  REQUIRE(e.sections[0].moisture.size() == 1);
  CHECK(e.sections[0].moisture[0].low->wet_risk);
  CHECK(raises(e, "dew-point-risk"));
  CHECK_FALSE(raises(e, "facing-off"));
  CHECK(says(all_words(s), "The warm face of closed-cell spray foam stays colder"));
  CHECK(raises(e, "foam-found"));
  CHECK_FALSE(raises(e, "spray-foam"));
  CHECK_FALSE(says(all_words(s), "acing on "));
  CHECK_FALSE(says(all_words(s), "is planned without a vent channel"));
  Survey foamed = slope_of({}, 0);
  foamed.sections[0].add = thick("spray-foam-closed", 5);
  CHECK(raises(run(foamed), "spray-foam"));
  foamed.sections[0].add = thick("cellulose-wet-spray", 5);
  CHECK_FALSE(raises(run(foamed), "spray-foam"));
  foamed.sections[0].add = thick("xps-board", 2);
  CHECK(raises(run(foamed), "foam-board-cover"));
}

// Symptom: "would end up inside" of a facing that lies inside, and "can trap damp" beside a
// dew-point line that says dry; cause: the caution asked neither what lies on the facing's warm
// side nor the air of winter. Hand derivation: at 70 F and 30 % the dew point is about 37 F; a
// facing with R-11 on R-3.5 is at 70 - 0.2 x 70, far above; with R-20 below and R-11 above and 60 %
// it is far below.
TEST_CASE(
    "true words: a facing's caution says where it lies, and agrees with the dew-point line beside "
    "it") {
  CHECK_FALSE(raises(run(faced(0, FacingSide::ceiling, {})), "buried-facing"));
  const Survey buried = faced(14, FacingSide::ceiling, {});
  CHECK(raises(run(buried), "buried-facing"));
  CHECK_FALSE(says(all_words(buried), "would end up inside"));
  const Evaluation dry = run(faced(3.5, FacingSide::ceiling, WinterSurvey{70, 30, 10}));
  REQUIRE(dry.sections[0].moisture.size() == 1);
  CHECK_FALSE(dry.sections[0].moisture[0].high->wet_risk);
  CHECK_FALSE(raises(dry, "buried-facing"));
  CHECK_FALSE(raises(dry, "dew-point-risk"));
  const Evaluation bare = run(faced(0, FacingSide::attic, {}));
  CHECK(raises(bare, "facing-cold-side"));
  CHECK_FALSE(raises(bare, "buried-facing"));
  Survey covered = faced(0, FacingSide::attic, {});
  covered.sections[0].layers.push_back(thick("cellulose-loose", 3));
  CHECK(raises(run(covered), "buried-facing"));
  CHECK_FALSE(raises(run(covered), "facing-cold-side"));
  Survey removed = faced(0, FacingSide::attic, {});
  removed.sections[0].layers[0].condition = Condition::remove;
  CHECK_FALSE(raises(run(removed), "facing-cold-side"));
}

// Symptom: "weigh a sample" of fill that all comes out; cause: the caution did not ask what stays.
// Invariant: nothing that comes out rests on the ceiling afterwards; what stays beside it is still
// asked for.
TEST_CASE("true words: nothing is weighed where all old fill comes out") {
  Section s = flat_section();
  s.layers = {batt_of(11, 3.5), layer_of("cellulose-loose")};
  s.readings = {reading_of(6)};
  for (Layer& layer : s.layers) layer.condition = Condition::remove;
  const Evaluation gone = run(survey_of({s}));
  CHECK_FALSE(raises(gone, "existing-weight-unknown"));
  CHECK_FALSE(gone.planned.high.sections[0].weight_at_least);
  s.layers[0].condition = Condition::sound;
  const Evaluation stays = run(survey_of({s}));
  CHECK(raises(stays, "existing-weight-unknown"));
  CHECK(stays.planned.high.sections[0].weight_at_least);
}

// Symptom: an unvented attic was asked for baffles; cause: counts and texts looked at the eaves
// alone. Common practice: an unvented attic has no vents, and what keeps a vent open has no place
// in it.
TEST_CASE("true words: an unvented attic is asked for no baffles") {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4})});
  s.ventilation = VentilationSurvey{};
  s.ventilation->low = s.ventilation->high = square_inches(300);
  s.ventilation->eave_length = inches(960);
  s.ventilation->rafter_spacing = inches(24);
  CHECK(run(s).planned.high.counts.baffles == 40);
  CHECK(says(all_words(s), "baffle"));
  s.site.attic = AtticKind::unvented;
  CHECK(run(s).planned.high.counts.baffles == 0);
  std::string all = all_words(s);
  for (const char* key : {"\"baffles\"", "epa-baffles", "wind baffles"})  // a key of JSON, a source
    for (std::size_t at = all.find(key); at != std::string::npos; at = all.find(key))
      all.erase(at, std::string(key).size());
  CHECK_FALSE(says(all, "baffle"));
}

// Symptom: the smaller vent figure without a word on the retarder; cause: it was told only where it
// was missing. Source: IRC R806.2 as in data/bypasses.json: 1/300 also asks for a vapor retarder
// from zone 6 on.
TEST_CASE("true words: the smaller vent figure names the retarder that it needs") {
  Survey s = survey_of({loose_section({4, 4, 4, 4, 4})});
  s.site.climate_zone = "6A";
  CHECK(run(s).plan.ventilation->need.reduced_asks_retarder == true);
  CHECK(says(all_words(s),
             "split high and low and the ceiling has a vapor retarder on its warm side"));
  s.site.climate_zone = "5A";
  CHECK(run(s).plan.ventilation->need.reduced_asks_retarder == false);
  CHECK_FALSE(says(all_words(s), "vapor retarder on its warm side"));
  s.site.climate_zone.clear();
  CHECK_FALSE(run(s).plan.ventilation->need.reduced_asks_retarder);
  CHECK(says(all_words(s), "from climate zone 6 on, the ceiling has a vapor retarder"));
}

// Symptom: "ready to insulate" of a survey in which nobody looked for anything; cause: nothing
// found and not looked at were one. Invariant: ready needs all three looked at; an empty list says
// so, an unvented attic has no vents to look at.
TEST_CASE("true words: ready is said only where hazards, air leaks and vents were looked at") {
  const auto text = [](const char* section, const char* whole) {
    return std::string(
               R"({"format":"overjoist-survey","version":1,"target":{"low_r":30,"high_r":30},
"sections":[{"name":"a","kind":"flat",
      "area_ft2":1000,"ceiling":"gypsum-1/2","joists":{"size":"2x6","spacing_in":16},
"layers":[{"material":"cellulose-loose"}],
      "readings":[12,12,12,12,12])") +
           section + "}]" + whole + "}";
  };
  const auto result = [&](const char* section, const char* whole) {
    const SurveyRead read = read_survey(text(section, whole), tables());
    REQUIRE(read.survey);
    return run(*read.survey);
  };
  const auto state = [](const Evaluation& e) {
    std::string json;
    write_json(json, e, tables(), {});
    return nlohmann::json::parse(json)["plan"]["readiness"];
  };
  const Evaluation none = result("", "");
  CHECK_FALSE(none.plan.readiness.ready);
  CHECK(state(none)["state"] == "not-looked-at");
  CHECK(state(none)["not_looked_at"] == nlohmann::json::array({"hazards", "bypasses", "vents"}));
  std::string page;
  write_html(page, none, tables(), Units::us);
  CHECK(says(one_line(page), "not looked at: hazards, air leaks, vents"));
  CHECK_FALSE(says(one_line(page), "ready to insulate"));
  const Evaluation all = result(
      R"(,"bypasses":[])", R"(,"hazards":[],"ventilation":{"low_nfa_in2":600,"high_nfa_in2":600})");
  CHECK(all.plan.readiness.ready);
  CHECK(state(all)["state"] == "ready");
  CHECK(state(result(R"(,"bypasses":[])", R"(,"hazards":[])"))["not_looked_at"] ==
        nlohmann::json::array({"vents"}));
  CHECK(result(R"(,"bypasses":[])", R"(,"hazards":[],"site":{"attic":"unvented"})")
            .plan.readiness.ready);
  const Evaluation bats = result("", R"(,"hazards":[{"kind":"bats"}])");
  CHECK(state(bats)["state"] == "not-ready");
  CHECK(state(bats)["not_looked_at"] == nlohmann::json::array({"bypasses", "vents"}));
}

// Symptom: batts and foam "after settling"; cause: one label for what is blown, laid and sprayed.
// Common practice: only loose fill settles.
TEST_CASE("true words: what is laid or sprayed does not settle") {
  Survey s = survey_of({loose_section({0})});
  CHECK(says(all_words(s), "after settling"));
  s.proposal->material = "spray-foam-closed";
  s.sections[0].layers.clear();
  const std::string sprayed = all_words(s);
  CHECK_FALSE(says(sprayed, "after settling"));
  CHECK_FALSE(says(sprayed, "once settled"));
  CHECK(says(sprayed, "of closed-cell spray foam on the bare ceiling"));
}

// Symptom: "Too few to tell how even the layer is" of a bare floor, a knee wall without a backing
// told as a fact; cause: the text took for granted what nobody had entered. Invariant: a text
// speaks of a layer only where one is.
TEST_CASE(
    "true words: a bare floor has no layer that is uneven, and a backing that nobody entered is "
    "asked for") {
  Survey s = survey_of({loose_section({0})});
  s.sections[0].layers.clear();
  CHECK_FALSE(raises(run(s), "few-readings"));
  Section wall;
  wall.name = "wall";
  wall.kind = SectionKind::knee_wall;
  wall.area = square_feet(100);
  s.sections.push_back(wall);
  CHECK(says(all_words(s), "No backing of the knee wall on the attic side was entered"));
}
