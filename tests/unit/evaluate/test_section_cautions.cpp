// SPDX-License-Identifier: MIT
// Where the rules behind the cautions turn, and the figures that a caution carries: a crew acts on
// those.
#include <doctest/doctest.h>

#include <variant>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

const Caution* find(const Evaluation& e, std::string_view code) {
  for (const Caution& c : e.findings.cautions)
    if (tables().cautions[c.row].code == code) return &c;
  return nullptr;
}

const Value* value_of(const Evaluation& e, std::string_view code, std::string_view name) {
  const Caution* c = find(e, code);
  if (c == nullptr) return nullptr;
  for (const NamedValue& v : c->values)
    if (v.name == name) return &v.value;
  return nullptr;
}

/// The number of a caution's value in US units; -1 where the caution or the value is missing.
double number(const Evaluation& e, std::string_view code, std::string_view name) {
  const Value* value = value_of(e, code, name);
  if (value == nullptr) return -1;
  return std::visit(
      [](const auto& v) -> double {
        if constexpr (std::is_same_v<std::decay_t<decltype(v)>, std::string>)
          return -2;
        else if constexpr (std::is_same_v<std::decay_t<decltype(v)>, double>)
          return v;
        else
          return v.us();
      },
      *value);
}

std::string words(const Evaluation& e, std::string_view code, std::string_view name) {
  const Value* value = value_of(e, code, name);
  const std::string* text = value == nullptr ? nullptr : std::get_if<std::string>(value);
  return text == nullptr ? "" : *text;
}

Survey batts_of(const std::vector<double>& depths, double label_r, double label_in) {
  Section s = flat_section();
  s.layers = {batt_of(label_r, label_in)};
  for (double d : depths) s.readings.push_back(reading_of(d));
  return survey_of({s}, 38, 38);
}

Survey loose_of(const std::vector<double>& depths, double target = 38) {
  return survey_of({loose_section(depths)}, target, target);
}

}  // namespace

// Source: design of the rule: the batts behind the squeezed-batt law have L0/R0 of 0.262 to 0.333,
// printed to three decimals, so half a thousandth either way is inside.
TEST_CASE("section cautions: a label's thickness per R is odd outside 0.262 to 0.333") {
  const auto odd = [](double ratio) {
    return raises(run(batts_of({3.5, 3.5}, 3.5 / ratio, 3.5)), "label-ratio");
  };
  for (double ratio : {0.2616, 0.27, 0.318, 0.3334}) CHECK_FALSE_MESSAGE(odd(ratio), ratio);
  for (double ratio : {0.20, 0.2614, 0.3336, 0.4}) CHECK_MESSAGE(odd(ratio), ratio);
}

// Hand derivation: 3 and 5 in. have mean 4 and deviation 1, a variation of 0.25, which is the
// bound; 2.75 and 5.25 have 1.25/4.
TEST_CASE(
    "section cautions: readings are few below five, and scattered above a quarter of their mean") {
  CHECK(raises(run(loose_of({4, 4, 4, 4})), "few-readings"));
  CHECK(number(run(loose_of({4, 4, 4, 4})), "few-readings", "count") == 4);
  CHECK_FALSE(raises(run(loose_of({4, 4, 4, 4, 4})), "few-readings"));
  CHECK_FALSE(raises(run(loose_of({3, 5, 3, 5})), "scattered-readings"));
  const Evaluation e = run(loose_of({2.75, 5.25, 2.75, 5.25}));
  CHECK(number(e, "scattered-readings", "least") == 2.75);
  CHECK(number(e, "scattered-readings", "greatest") == 5.25);
  CHECK_FALSE(raises(run(loose_of({0, 0})), "scattered-readings"));
}

// Hand derivation: one spot of four is below the 5.5 in. of a 2x6, one is flush with it: 25 %.
TEST_CASE("section cautions: joists stand out over the share of spots below their tops") {
  const Evaluation e = run(loose_of({3, 5.5, 6, 9}));
  near(number(e, "exposed-joists", "share"), 25, kNoise);
  CHECK_FALSE(raises(run(loose_of({5.5, 6, 9})), "exposed-joists"));
}

// Hand derivation: R-19 of 6.25 in. at 2 in.: 4.3 per inch, 8.6, the rule 19·0.32/(0.647 +
// 0.353·0.32) = 8.0004. A bare spot is bare, not missing; under an R-11 batt of 3.5 in. at 2 in.,
// one spot of four, that one finds no room. At 3.5 in.: 3.5/(0.1724 + (6.25/19 - 0.1724)·3.5/6.25)
// = 3.5/0.26007 = 13.458 (method eq. 2).
TEST_CASE("section cautions: squeezed and missing batts are told by their figures") {
  const Evaluation thin = run(batts_of({0, 2, 3.5, 6.25}, 19, 6.25));
  near(number(thin, "batt-below-half", "thickness"), 2, kNoise);
  near(number(thin, "batt-below-half", "r"), 8.6, kNoise);
  near(number(thin, "batt-below-half", "low"), 8.00042, 5e-5);
  CHECK_FALSE(raises(thin, "batt-missing"));
  Survey two = batts_of({0, 2, 9.75, 9.75}, 19, 6.25);
  two.sections[0].layers.push_back(batt_of(11, 3.5));
  near(number(run(two), "batt-missing", "share"), 25, kNoise);
  const Evaluation e = run(batts_of({0, 3.5, 6.25}, 19, 6.25));
  near(number(e, "squeezed-batt", "thickness"), 3.5, kNoise);
  near(number(e, "squeezed-batt", "r"), 13.458, 5e-4);
  CHECK_FALSE(raises(run(batts_of({0, 6.25}, 19, 6.25)), "squeezed-batt"));
  CHECK_FALSE(raises(run(batts_of({0, 6.25}, 19, 6.25)), "batt-missing"));
  near(number(run(batts_of({6.25, 6.25}, 19, 6.25)), "batt-thicker-than-joist", "thickness"), 6.25,
       kNoise);
  CHECK_FALSE(raises(run(batts_of({3.5, 3.5}, 11, 3.5)), "batt-thicker-than-joist"));
}

// Hand derivation: 5.5 in. of rock wool fill the bays flush, so nothing gapes under the batt
// across, and a void of 5 % is a hole, not a layer's height. 3 in. leave 2.5.
TEST_CASE(
    "section cautions: a gap under a batt across is what a full layer leaves, and a void is none") {
  for (const auto& [filled, gap] : {std::pair(5.5, -1.0), std::pair(3.0, 2.5)}) {
    Section s = flat_section();
    s.layers = {layer_of("rock-wool-loose"), batt_of(30, 10)};
    s.layers[0].thickness = inches(filled);
    s.layers[0].condition = Condition::voids;
    s.layers[0].void_share = 0.05;
    s.layers[1].lies = Lies::across;
    s.readings = {reading_of(filled + 10), reading_of(filled + 10)};
    near(number(run(survey_of({s})), "gap-below-batt", "gap"), gap, kNoise);
  }
}

// Hand derivation: a batt of 6.25 in. and nothing loose: a reading of 9 in. is above all that was
// named, one of 6.25 is not.
TEST_CASE("section cautions: a reading above the layers is told by its depth") {
  near(number(run(batts_of({6.25, 9, 8}, 19, 6.25)), "reading-above-layers", "depth"), 9, kNoise);
  CHECK_FALSE(raises(run(batts_of({6.25}, 19, 6.25)), "reading-above-layers"));
}

// Hand derivation: R-19 of cellulose takes 6.79 in. as blown; over 2x10 joists the level is their
// top, 9.25 in., which settles by a fifth to 7.4 in. At R-38, 13.75 in. settle to 11, above the
// tops.
TEST_CASE("section cautions: fill that settles below the joist tops") {
  Survey s = loose_of({0, 0}, 19);
  s.sections[0].joists->size = "2x10";
  near(number(run(s), "settled-below-joists", "thickness"), 7.4, 1e-9);
  s.target.low = s.target.high = r_value(38);
  CHECK_FALSE(raises(run(s), "settled-below-joists"));
}

// Source: material table: cellulose 2.0 lb/ft3 at most, rock wool 1.7, glass fiber less. Heavier
// new fill squeezes lighter old; a batt is light; what comes out or never lies there is not
// squeezed.
TEST_CASE("section cautions: heavy new fill over light old fill") {
  const auto over = [](const std::string& old, const std::string& fresh) {
    Survey s = survey_of({loose_section({6, 6}, old)}, 38, 38);
    s.proposal->material = fresh;
    return raises(run(s), "heavy-over-light");
  };
  CHECK(over("glass-fiber-loose", "cellulose-loose"));
  CHECK(over("rock-wool-loose", "cellulose-loose"));
  CHECK_FALSE(over("cellulose-loose", "rock-wool-loose"));
  CHECK_FALSE(over("cellulose-loose", "cellulose-loose"));
  CHECK(raises(run(batts_of({3.5, 3.5}, 11, 3.5)), "heavy-over-light"));
  CHECK_FALSE(raises(run(batts_of({0, 0}, 11, 3.5)), "heavy-over-light"));
  Survey out = batts_of({3.5, 3.5}, 11, 3.5);
  out.sections[0].layers[0].condition = Condition::remove;
  CHECK_FALSE(raises(run(out), "heavy-over-light"));
}

// Hand derivation: 12 in. of headroom hold R-12/0.8... the words name what stops the work, the
// figure what is reached: blown to 12 in. from bare, 9.6 in. settled, R-33.6.
TEST_CASE("section cautions: a target out of reach names what stops it and the best that fits") {
  Survey s = loose_of({0, 0});
  s.sections[0].headroom = inches(12);
  near(number(run(s), "target-out-of-reach", "best"), 33.6, 1e-9);
  CHECK(words(run(s), "target-out-of-reach", "limit") == "headroom");
  s.target.basis = Basis::effective;
  near(number(run(s), "target-out-of-reach", "best"),
       run(s).planned.high.sections[0].effective_r.us(), kNoise);
  s.sections[0].headroom.reset();
  s.sections[0].kind = SectionKind::decked;
  s.sections[0].deck = Board{"plywood-3/4", {}, {}};
  CHECK(words(run(s), "target-out-of-reach", "limit") == "the deck at the joist tops");
  Survey chart = with_chart(loose_of({0, 0}, 60));
  CHECK(words(run(chart), "target-out-of-reach", "limit") == "the last row of the label's chart");
}

// Hand derivation: half-inch gypsum at 24 in. carries 1.3 lb/ft2 (limit table). Cellulose of 2
// lb/ft3: 12 in. are 2 lb/ft2. The weight is the greater end's, at the heaviest spot; the words say
// of when it speaks.
TEST_CASE(
    "section cautions: the ceiling's weight is that of the heaviest spot and end, and says of "
    "when") {
  Survey s = survey_of({loose_section({4, 6})}, 30, 49);
  s.sections[0].joists->spacing = inches(24);
  const Evaluation e = run(s);
  const double heaviest = e.planned.high.sections[0].weight_greatest->us();
  CHECK(heaviest > e.planned.low.sections[0].weight_greatest->us());
  near(number(e, "ceiling-weight", "weight"), heaviest, kNoise);
  near(number(e, "ceiling-weight", "limit"), 1.3, kNoise);
  CHECK(words(e, "ceiling-weight", "when") == "after the work");
  for (Reading& r : s.sections[0].readings)
    r.depth = r.depth_to = inches(18);  // nothing to add
  near(number(run(s), "ceiling-weight", "weight"), 3, kNoise);
  CHECK(words(run(s), "ceiling-weight", "when") == "as it lies now");
  s.sections[0].layers[0].condition =
      Condition::remove;  // it stays counted until it is out, and R-63 still meets
  CHECK(words(run(s), "ceiling-weight", "when") == "after the removal and the new fill");
  Survey light =
      survey_of({loose_section({7.8})}, 19, 19);  // 7.8 in. are 1.3 lb/ft2: at the limit, not above
  light.sections[0].joists->spacing = inches(24);
  CHECK_FALSE(raises(run(light), "ceiling-weight"));
}

// Hand derivation: the chart's first row is 3.7 in. settled (fixtures). R-38 over R-30 of old fill
// lacks 8, some 2.3 in.: below the first row. R-49 over the same lacks 19, some 5.4 in.
TEST_CASE("section cautions: a layer thinner than the first row of the chart is told") {
  const auto raised = [](double target) {
    return raises(run(with_chart(loose_of({30 / 3.5, 30 / 3.5}, target))), "chart-below-first-row");
  };
  CHECK(raised(38));
  CHECK_FALSE(raised(49));
  CHECK_FALSE(raises(run(with_chart(loose_of({20, 20}, 49))),
                     "chart-below-first-row"));  // nothing is added
}

// Invariant: what a facing is and where it lies decides what is said of it.
TEST_CASE("section cautions: facings on the cold side, buried, or unknown") {
  const auto with = [](Facing facing, std::optional<FacingSide> side, bool on_top) {
    Section s = flat_section();
    s.layers = {batt_of(11, 3.5)};
    if (on_top) s.layers.push_back(batt_of(19, 6.25));
    s.layers.back().facing = facing;
    s.layers.back().facing_side = side;
    s.readings = {reading_of(on_top ? 9.75 : 3.5)};
    return run(survey_of({s}));
  };
  CHECK(raises(with(Facing::kraft, FacingSide::attic, false), "facing-cold-side"));
  CHECK(raises(with(Facing::none, FacingSide::attic, false), "facing-cold-side"));
  CHECK_FALSE(raises(with(Facing::kraft, FacingSide::ceiling, false), "facing-cold-side"));
  CHECK_FALSE(raises(with(Facing::kraft, FacingSide::ceiling, false), "buried-facing"));
  CHECK(raises(with(Facing::kraft, FacingSide::ceiling, true), "buried-facing"));
  CHECK(raises(with(Facing::foil, {}, true), "buried-facing"));
  CHECK_FALSE(raises(with(Facing::none, {}, true), "buried-facing"));
  CHECK(raises(with(Facing::unknown, {}, false), "facing-unknown"));
  CHECK_FALSE(raises(with(Facing::kraft, {}, false), "facing-unknown"));
  CHECK(assumes(with(Facing::kraft, {}, false), "facing-side"));
  CHECK_FALSE(assumes(with(Facing::kraft, FacingSide::ceiling, false), "facing-side"));
}

// Invariant: without wood there is no joist that a batt could be thicker than.
TEST_CASE("section cautions: no joist, no batt that is thicker than it") {
  Survey s = batts_of({6.25, 6.25}, 19, 6.25);
  s.sections[0].joists->framing_fraction = 0.0;
  CHECK_FALSE(raises(run(s), "batt-thicker-than-joist"));
}

// Hand derivation: under a deck 3 in. of rock wool and 2.5 of cellulose fill a 2x6; a void of the
// upper layer is a hole, no gap.
TEST_CASE("section cautions: a void under a deck is no gap") {
  Section s = flat_section();
  s.kind = SectionKind::decked;
  s.deck = Board{"plywood-3/4", {}, {}};
  s.layers = {layer_of("rock-wool-loose"), layer_of("cellulose-loose")};
  s.layers[0].thickness = inches(3);
  s.layers[1].condition = Condition::voids;
  s.layers[1].void_share = 0.05;
  s.readings = {reading_of(5.5)};
  CHECK_FALSE(raises(run(survey_of({s})), "gap-below-deck"));
  s.readings = {reading_of(5)};
  CHECK(raises(run(survey_of({s})), "gap-below-deck"));
}

// Invariant: without wood there are no joist tops that fill could settle below.
TEST_CASE("section cautions: no joist, nothing settles below it") {
  Survey s = loose_of({0, 0}, 13);
  s.sections[0].joists->framing_fraction = 0.0;
  CHECK(run(s).planned.high.sections[0].initial_level->us() < 5.5);
  CHECK_FALSE(raises(run(s), "settled-below-joists"));
}
