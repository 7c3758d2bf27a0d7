// SPDX-License-Identifier: MIT
// Values that stand in a result beside the main ones, each derived by hand: means by other framing
// methods, squeezed batts among the steps, what comes out of a range, figures of assumptions,
// prices of foam.
#include <doctest/doctest.h>

#include <algorithm>
#include <variant>

#include "fixtures.hpp"
#include "overjoist/sealing.hpp"
#include "words/nearest.hpp"

using namespace fixtures;

namespace {

double assumed(const Evaluation& e, std::string_view code) {
  for (const Assumption& a : e.findings.assumptions)
    if (tables().assumptions[a.row].code == code)
      for (const NamedValue& v : a.values)
        if (const double* number = std::get_if<double>(&v.value);
            number != nullptr && v.name == "value")
          return *number;
  return -1;
}

double step_change(const ExistingResult& r, std::string_view code) {
  for (const LossStep& s : r.steps)
    if (s.code == code) return s.change.us();
  return -999;
}

}  // namespace

// Hand derivation: 2x6 at 16 in., f = 1.5/16, R 3.5 per inch, films and gypsum 1.52. 4 in.:
// bay 15.52, joist 1.52 + 5 = 6.52, band 1/(f/5 + (1 - f)/14). 10 in.: bay 36.52, joist 1.52
// + 6.875 + 15.75, band 1/(f/6.875 + (1 - f)/19.25) and 15.75 above it. U of each spot by each
// method (method eq. 5), a quarter and three quarters of the area.
TEST_CASE("chosen values: effective R by the three framing methods over two depths") {
  Section s = loose_section({4, 10});
  s.readings[0].share = 0.25;
  s.readings[1].share = 0.75;
  const double f = 1.5 / 16;
  const double upper[] = {1 / (f / 6.52 + (1 - f) / 15.52), 1 / (f / 24.145 + (1 - f) / 36.52)};
  const double lower[] = {1.52 + 1 / (f / 5 + (1 - f) / 14),
                          1.52 + 1 / (f / 6.875 + (1 - f) / 19.25) + 15.75};
  const auto mean = [](double a, double b) { return 1 / (0.25 / a + 0.75 / b); };
  const ExistingResult r = run(survey_of({s})).sections[0].existing;
  near(r.effective_r_parallel.us(), mean(upper[0], upper[1]), kNoise);
  near(r.effective_r_planes.us(), mean(lower[0], lower[1]), kNoise);
  near(r.effective_r_mean.us(), mean((upper[0] + lower[0]) / 2, (upper[1] + lower[1]) / 2), kNoise);
}

// Hand derivation: R-19 of 6.25 in. at 3.5 in. is 13.458 (method eq. 2), 5.542 less than its label
// over the covered spots; bare spots are another step. A third of bare floor changes nothing in it.
TEST_CASE(
    "chosen values: what squeezing takes is a step of its own, over the spots that are not bare") {
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

// Invariant: a layer that comes out is in no range after the work: 4 in. of rock wool under 4 in.
// of cellulose to be removed end as 4 in. of rock wool do.
TEST_CASE("chosen values: what comes out leaves the range after the work, whichever layer it is") {
  Section both = flat_section(), alone = flat_section();
  both.layers = {layer_of("rock-wool-loose"), layer_of("cellulose-loose")};
  both.layers[0].thickness = inches(4);
  both.layers[1].condition = Condition::remove;
  alone.layers = {layer_of("rock-wool-loose")};
  for (int i = 0; i < 4; ++i) {
    both.readings.push_back(reading_of(8));
    alone.readings.push_back(reading_of(4));
  }
  const TopUp with = run(survey_of({both})).planned.high.sections[0],
              without = run(survey_of({alone})).planned.high.sections[0];
  near(with.working_r.us(), without.working_r.us(), 1e-6);
  near(with.working_r_range->low.us(), without.working_r_range->low.us(), 1e-6);
  near(with.working_r_range->high->us(), without.working_r_range->high->us(), 1e-6);
}

// Source: data/materials.json: cellulose settles by 20 % at most. A chart without initial
// thicknesses takes it from the material.
TEST_CASE("chosen values: the settling that is listed is percent") {
  const Survey plain = survey_of({loose_section({4, 4})});
  near(assumed(run(plain), "settling"), 20, kNoise);
  std::vector<ChartRow> rows = invented_rows();
  for (ChartRow& row : rows) row.initial.reset();
  Survey chart = with_chart(plain, rows);
  chart.proposal->material = "cellulose-loose";
  near(assumed(run(chart), "settling"), 20, kNoise);
}

// Hand derivation: with no chart a bag holds its net weight: bags before waste are mass over 25 lb,
// at an eave too.
TEST_CASE("chosen values: at an eave mass and bags lose the same share") {
  Section s = loose_section({4, 5});
  s.eave = EaveSurvey{inches(5), 6.0, inches(600), {}, {}};
  Survey survey = survey_of({s});
  survey.proposal->bag_net = Mass::from_us(25);
  survey.proposal->waste_percent = 8.0;
  const TopUp t = run(survey).planned.high.sections[0];
  REQUIRE(t.eave);
  CHECK(*t.eave->bags_less > 0);
  near(*t.bags_exact, t.added_mass->us() / 25 * 1.08, 1e-9);
}

// Hand derivation: foam on 1,000 bare ft2: board feet are ft2 times inches, the level up to 1/4
// in.; 0.9 a board foot, labor 0.5 a ft2, both in the cost of the step.
TEST_CASE("chosen values: a step of foam costs its board feet") {
  Section bare = flat_section();
  bare.readings = {reading_of(0)};
  Survey s = survey_of({bare}, 30, 49);
  s.proposal->material = "spray-foam-open";
  s.proposal->price_per_board_ft = 0.9;
  s.proposal->labour = Labour{0.5, {}, {}};
  s.heating = heating_of("natural-gas", 0.8);
  s.heating->price_per_unit = 1.2;
  const Evaluation e = run(s);
  const double inches_low = e.planned.low.sections[0].initial_level->us();
  near(*e.planned.low.sections[0].board_ft_exact, 1000 * inches_low, 1e-9);
  REQUIRE(e.steps.size() >= 2);
  near(*e.steps[1].cost, 900 * inches_low + 500, 1e-6);
  near(*e.planned.low.totals.cost, 900 * inches_low + 500, 1e-6);
}

// Hand derivation: two floors of the same area: a comparison shows the first.
TEST_CASE("chosen values: of floors alike in size a comparison shows the first") {
  Section first = loose_section({3, 3}), second = loose_section({8, 8});
  first.name = "first";
  second.name = "second";
  Survey s = survey_of({first, second});
  s.compare = {*s.proposal};
  const Evaluation e = run(s);
  CHECK(e.compare.at(0).ends.high.depth == e.planned.high.sections[0].new_depth->mean);
  CHECK(e.compare.at(1).ends.high.depth == e.planned.high.sections[0].new_depth->mean);
}

// Hand derivation: a layer that lies nowhere weighs nothing, though its density is not known
// (perlite): 6 in. of cellulose at 2 lb/ft3 are 1 lb/ft2.
TEST_CASE(
    "chosen values: a layer of unknown density leaves the weight unknown only where it lies") {
  Section s = flat_section();
  s.layers = {layer_of("cellulose-loose"), layer_of("perlite")};
  s.layers[0].thickness = inches(6);
  s.readings = {reading_of_layers({6, 0}), reading_of_layers({6, 0})};
  near(run(survey_of({s})).sections[0].existing.weight.value_or(MassPerArea::from_us(-1)).us(), 1,
       kNoise);
  s.readings = {reading_of_layers({6, 0}), reading_of_layers({6, 1})};
  CHECK_FALSE(run(survey_of({s})).sections[0].existing.weight);
}

// Source: edit distance as Levenshtein counts it: one for each letter put in, left out or changed;
// kitten to sitting is the usual example, 3.
TEST_CASE("chosen values: edit distance") {
  CHECK(edit_distance("kitten", "sitting") == 3);
  CHECK(edit_distance("abc", "ab") == 1);
  CHECK(edit_distance("ab", "abc") == 1);
  CHECK(edit_distance("abc", "adc") == 1);
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("abc", "") == 3);
  CHECK(edit_distance("abc", "abc") == 0);
}

// Invariant: an attic without heated rooms below saves nothing, by cold or by heat, and has no
// range of its own.
TEST_CASE("chosen values: over unheated rooms there is no cooling figure") {
  Survey s = priced_with_gas(survey_of({loose_section({4})}));
  s.sections[0].below = Below::unheated;
  s.cooling = Cooling{3.0, {}, 5000, 900};
  const Evaluation e = run(s);
  CHECK_FALSE(e.planned.high.totals.cooling);
  CHECK_FALSE(e.heating);
  CHECK_FALSE(e.attic.existing.effective_r_range);
}

// Hand derivation: a joint whose length nobody measured has no bead to count. Two chases of half a
// unit's count are as many as the survey says; without a count one is meant.
TEST_CASE("chosen values: a bead without a length is no bead, and a count is taken as it is") {
  CHECK(sealing_list({{"top-plate", "hall", 0, {}, {}, {}}}, tables()).totals.beads.empty());
  const auto area = [](double count) {
    return sealing_list({{"open-chase", "bath", count, inches(24), inches(12), {}}}, tables())
        .items[0]
        .quantity.value_or(-1);
  };
  near(area(0), 2, kNoise);
  near(area(1), 2, kNoise);
  near(area(3), 6, kNoise);
}

// Source: data/bypasses.json: a cover over each light without an IC label, metal of 2 to 4 ft2 at a
// flue. Hand derivation: for 3 of them three times as much.
TEST_CASE("chosen values: goods of a bypass go with its count") {
  const SealingList three =
      sealing_list({{"recessed-light-non-ic", "hall", 3, {}, {}, {}}}, tables());
  near(three.items[0].covers, 3, kNoise);
  near(three.totals.covers, 3, kNoise);
  const BypassRow& flue = *tables().bypass("flue");
  const SealingList flues = sealing_list({{"flue", "furnace", 3, {}, {}, {}}}, tables());
  CHECK(flue.metal_per_unit_high > Area{});
  near(flues.totals.metal_low.us(), 3 * flue.metal_per_unit_low.us(), kNoise);
  near(flues.totals.metal_high.us(), 3 * flue.metal_per_unit_high.us(), kNoise);
  near(flues.items[0].tubes_small, 3 * flue.tubes_per_unit, kNoise);
}

// Hand derivation: the bills' caution speaks in percent: 24·UA·6000 over (100 therms x 100,000 x
// 0.8) of heat, above the 50 % that is believed.
TEST_CASE("chosen values: bills that cannot be are told in percent") {
  Survey s = priced_with_gas(survey_of({loose_section({4, 4})}));
  s.heating->bills = HeatingBills{100, 0.0};
  const Evaluation e = run(s);
  for (const Caution& c : e.findings.cautions) {
    if (tables().cautions[c.row].code != "bills-too-low") continue;
    near(std::get<double>(c.values[0].value),
         std::ceil(100 * 24 * e.heating->ua_before.us() * 6000 / (100 * 1e5 * 0.8)), 1e-6);
    near(std::get<double>(c.values[1].value), 50, 1e-9);
  }
  CHECK(raises(e, "bills-too-low"));
}

// Invariant: what differs in its values is another thing: two batts without labels are two
// defaults. What is alike is said once.
TEST_CASE("chosen values: the same default with other values is listed again") {
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

// Hand derivation: wet fill of 6 in. on two spots of three: 1,000 ft2 x 2/3, half a foot deep.
TEST_CASE("chosen values: what comes out is counted where it lies") {
  Section s = loose_section({0, 6, 6});
  s.layers[0].condition = Condition::wet;
  const WholeSection r = section_of(run(survey_of({s})));
  REQUIRE(r.removals.size() == 1);
  near(r.removals[0].area.us(), 2000.0 / 3, 1e-9);
  near(r.removals[0].volume.us(), 1000.0 / 3, 1e-9);
}

// Invariant: even readings under a chart leave nothing uncertain after the work: both ends of the
// range are the figure itself, by each framing method.
TEST_CASE(
    "chosen values: without scatter or a material's range the range is the figure, by each "
    "method") {
  for (const FramingMethod method :
       {FramingMethod::parallel, FramingMethod::planes, FramingMethod::mean}) {
    Tables t = tables();
    t.framing_method = method;
    Section s = flat_section();
    s.readings = {reading_of(0), reading_of(0), reading_of(0)};
    const TopUp r = evaluate(with_chart(survey_of({s}, 38, 38)), t).planned.high.sections[0];
    near(r.effective_r_range->low.us(), r.effective_r.us(), 1e-9);
    near(r.effective_r_range->high->us(), r.effective_r.us(), 1e-9);
    near(r.working_r_range->low.us(), r.working_r.us(), 1e-9);
  }
}
