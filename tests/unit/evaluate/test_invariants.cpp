// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "fixtures.hpp"

using namespace fixtures;

namespace {

void add(std::vector<double>& all, const TopUp& t) {
  for (Resistance r : {t.target_r, t.working_r, t.effective_r}) all.push_back(r.us());
  for (const auto& level : {t.initial_level, t.level_exact, t.confident_level, t.settled_level})
    all.push_back(level.value_or(inches(-1)).us());
  for (const auto& depth : {t.new_depth, t.new_depth_initial})
    if (depth)
      for (Length d : {depth->least, depth->mean, depth->greatest}) all.push_back(d.us());
  all.push_back(t.added_mass.value_or(Mass::from_us(-1)).us());
  all.push_back(t.bags_exact.value_or(-1));
  for (const auto& weight : {t.added_weight, t.weight, t.weight_greatest})
    all.push_back(weight.value_or(MassPerArea::from_us(-1)).us());
  if (t.within_weight) all.push_back(t.within_weight->working_r.us());
}

/// Every number of a result that readings can touch.
std::vector<double> numbers(const Evaluation& e) {
  std::vector<double> all;
  for (const WholeSection& s : sections_of(e)) {
    const ExistingResult& x = s.existing;
    all.push_back(x.mean_depth.us());
    for (Resistance r :
         {x.yardstick_r, x.working_r, x.effective_r, x.effective_r_planes, x.effective_r_mean})
      all.push_back(r.us());
    for (const LossStep& step : x.steps) all.push_back(step.after.us());
    all.push_back(x.weight.value_or(MassPerArea{}).us());
    add(all, s.low);
    add(all, s.high);
    for (const RemovalResult& r : s.removals) all.push_back(r.volume.us());
  }
  for (const AtticState* a : {&e.attic.existing, &e.planned.low.attic, &e.planned.high.attic})
    all.push_back(a->ua.us());
  all.push_back(e.planned.high.totals.bags.value_or(-1));
  return all;
}

/// The floor after the blow as a survey of its own: old layer and new layer, with the depth of each
/// at every reading.
Section as_built(const Section& before, const std::string& material,
                 const std::vector<double>& fresh) {
  Section after = before;
  after.layers.push_back(layer_of(material));
  after.layers[0].thickness =
      inches(1);  // per-layer readings rule; only one layer may lack a thickness
  after.readings.clear();
  for (std::size_t i = 0; i < fresh.size(); ++i)
    after.readings.push_back(reading_of_layers({before.readings[i].depth.us(), fresh[i]}));
  return after;
}

double basis_value(const ExistingResult& r, Basis basis) {
  return basis == Basis::working ? r.working_r.us() : r.effective_r.us();
}

/// May be blown in by the table: loose, sold, with R and settling.
bool blown_in(const Material& m) {
  return m.form == Form::loose && !m.existing_only && m.central() &&
         (m.settling_high || m.settling_low);
}

const std::vector<std::vector<double>> kBases = {{4, 4, 4}, {0, 0, 0}, {0, 2, 4, 6}, {3, 5.5, 9}};

}  // namespace

// Invariant: top-up -> R -> the same R: the settled result of the unrounded level, surveyed anew
// with the depth of every layer, has the target R, within 1e-6 (the solver promises 1e-7 and the
// rest is rounding), for every material of the table that may be blown in.
TEST_CASE("inverse: the unrounded top-up, surveyed again, has the target R") {
  int materials = 0;
  Tables as_new = tables();  // what was blown is not aged yet
  for (Material& m : as_new.materials) m.found_row = {};
  for (const Material& m : as_new.materials) {
    if (!blown_in(m)) continue;
    ++materials;
    for (const auto& base : kBases)
      for (Basis basis : {Basis::working, Basis::effective}) {
        CAPTURE(m.id);
        Survey survey = survey_of({loose_section(base, "rock-wool-loose")}, 38, 60);
        survey.proposal->material = m.id;
        survey.target.basis = basis;
        const double settling = m.settling_high ? *m.settling_high : *m.settling_low;
        const Evaluation before = evaluate(survey, as_new);
        const WholeSection section = section_of(before);
        for (const TopUp* t : {&section.low, &section.high}) {
          std::vector<double> fresh;
          for (double d : base)
            fresh.push_back(std::max(0.0, t->level_exact->us() - d) * (1 - settling));
          Survey again = survey;
          again.sections = {as_built(survey.sections[0], m.id, fresh)};
          near(basis_value(evaluate(again, as_new).sections[0].existing, basis), t->target_r.us(),
               1e-6);
        }
      }
  }
  CHECK(materials >= 3);
}

// Invariant: the same with a label's chart. Its R is not proportional to depth, so over an even
// base the new layer is surveyed as a material of the row's own R per inch; over an uneven one the
// paths are summed here from the chart's R at each spot.
TEST_CASE("inverse: with a chart the unrounded top-up has the target R too") {
  const CoverageChart chart(invented_rows(), Mass::from_us(25), 0);
  NewFill fill;
  fill.chart = &chart;
  for (double target : {30.0, 38.0, 49.0}) {
    Survey survey = with_chart(survey_of({loose_section({4, 4})}, target, target));
    const Length fresh =
        chart.settled_for_initial(*run(survey).planned.low.sections[0].level_exact - inches(4));
    Material own;
    own.id = own.name = "own-fill";
    own.typical = chart.r_at(fresh) / fresh;
    survey.materials = {own};
    survey.sections = {as_built(survey.sections[0], "own-fill", {fresh.us(), fresh.us()})};
    near(run(survey).sections[0].existing.working_r.us(), target, 1e-6);

    const BaseFloor floor = floor_of({0, 3, 6}, 3.5, kEnds, framing_of(0, 0));
    const Length level = level_for(floor, fill, Basis::working, r_value(target)).value();
    double u = 0;
    for (double d : {0.0, 3.0, 6.0})
      u += 1 / 3.0 /
           (kEnds + 3.5 * d +
            (level.us() > d ? chart.r_at(chart.settled_for_initial(level - inches(d))).us() : 0.0));
    near(1 / u - kEnds, target, 1e-6);
  }
}

// Invariant: what is reported at the rounded level is what a new survey of it finds; exact
// arithmetic in another order.
TEST_CASE("inverse: the rounded top-up, surveyed again, has the R that was reported") {
  for (const auto& base : kBases) {
    Survey survey = survey_of({loose_section(base)}, 38, 49);
    const TopUp t = run(survey).planned.high.sections[0];
    std::vector<double> fresh;
    for (double d : base) fresh.push_back(std::max(0.0, t.initial_level->us() - d) * 0.8);
    survey.sections = {as_built(survey.sections[0], "cellulose-loose", fresh)};
    const ExistingResult after = run(survey).sections[0].existing;
    near(after.working_r.us(), t.working_r.us(), kNoise);
    near(after.effective_r.us(), t.effective_r.us(), kNoise);
    near(after.mean_depth.us(), t.settled_level->us(), kNoise);
    near(after.weight->us(), t.weight->us(), kNoise);
  }
}

// Invariant: more depth never lowers R, of the insulation, the bay or both paths, whatever the
// stack; 0.01 in. grid, rounding noise allowed.
TEST_CASE("monotone: more depth never lowers R") {
  const std::vector<std::vector<BuiltLayer>> stacks = {
      {loose_layer(3.5)},
      {batt_layer(19, 6.25), loose_layer(3.5)},
      {batt_layer(11, 3.5), batt_layer(30, 10, Lies::across)},
      {batt_layer(19, 6.25), batt_layer(11, 3.5), loose_layer(2.6)},
      {loose_layer(3.5, 4), batt_layer(19, 6.25, Lies::across)},
      {loose_layer(2.2), batt_layer(38, 12, Lies::across)},
      {batt_layer(30, 10)}};
  const PathEnds ends = {r_value(1.06), r_value(0.46)};
  const Framing wood = framing_of(0.1, 5.5);
  for (std::size_t n = 0; n < stacks.size(); ++n) {
    CAPTURE(n);
    double insulation = -1, bay = -1, both = -1;
    for (int i = 0; i <= 2500; ++i) {
      const Column column = column_at(stacks[n], inches(0.01 * i));
      const SpotPaths p = spot_paths(ends, wood, stacks[n], column, false);
      const double now = insulation_r(stacks[n], column).us(),
                   now_both = inverse(parallel(wood, p)).us();
      CAPTURE(i);
      REQUIRE(now >= insulation - kNoise);
      REQUIRE(p.bay.us() >= bay - kNoise);
      REQUIRE(now_both >= both - kNoise);
      insulation = now;
      bay = p.bay.us();
      both = now_both;
    }
  }
}

// Invariant: boards count from their own thickness up, and then more depth never lowers R.
TEST_CASE("monotone: over boards more depth never lowers R") {
  const std::vector<BuiltLayer> layers = {board_layer(5, 2), batt_layer(19, 6.25),
                                          loose_layer(3.5)};
  double last = -1;
  for (int i = 200; i <= 2000; ++i) {
    const double now = insulation_r(layers, column_at(layers, inches(0.01 * i))).us();
    REQUIRE(now >= last - kNoise);
    last = now;
  }
}

// Invariant: a higher level never lowers R, and a higher target never lowers the level.
TEST_CASE("monotone: more level gives more R, more target asks more level") {
  const BaseFloor floor = floor_of({0, 3, 7}, 3.5, kEnds, framing_of(0.1, 5.5));
  const NewFill fill = fill_of(3.5, 0.2, 2);
  double working = 0, effective = 0, level = 0;
  for (double x = 0; x <= 30; x += 0.05) {
    const FloorR r = floor_r(floor, fill, inches(x));
    REQUIRE(r.working.us() >= working - kNoise);
    REQUIRE(r.effective.us() >= effective - kNoise);
    working = r.working.us();
    effective = r.effective.us();
  }
  for (double target = 20; target <= 80; target += 1) {
    const double now = level_for(floor, fill, Basis::working, r_value(target))->us();
    REQUIRE(now > level);
    level = now;
  }
}

// Invariant: one survey in inches, feet and pounds and the same in SI are one attic; the factors
// round in the last digits, so 1e-9 of the value.
TEST_CASE("units: a survey in SI and in US units gives the same result") {
  Survey us = survey_of({loose_section({2, 4.5, 6, 0})}, 38, 49), si = us;
  si.sections[0].area = Area::from_si(1000 * 0.09290304);
  si.sections[0].joists->spacing = Length::from_si(16 * 0.0254);
  for (Reading& r : si.sections[0].readings)
    r.depth = r.depth_to = Length::from_si(r.depth.us() * 0.0254);
  si.target.low = Resistance::from_si(38 * 0.17611018368230584);
  si.target.high = Resistance::from_si(49 * 0.17611018368230584);
  si.proposal->bag_net = Mass::from_si(25 * 0.45359237);
  us.proposal->bag_net = Mass::from_us(25);
  const auto a = numbers(run(us)), b = numbers(run(si));
  REQUIRE(a.size() == b.size());
  for (std::size_t i = 0; i < a.size(); ++i)
    near(b[i], a[i], 1e-9 * std::max(1.0, std::fabs(a[i])));
}

// Invariant: readings are sorted and merged before any sum, so their order cannot change a single
// bit; 40 shuffles by a fixed seed.
TEST_CASE("order: readings in any order give identical bits everywhere") {
  std::vector<Reading> plain, shared, layered;
  for (double d : {0.0, 2.3, 4.1, 4.1, 5.7, 6.9, 3.3, 2.3, 11.7}) plain.push_back(reading_of(d));
  plain[2].depth_to = inches(6.9);
  const double shares[] = {0.1, 0.2, 0.13, 0.07, 0.05, 0.15, 0.3};
  for (std::size_t i = 0; i < 7; ++i)
    shared.push_back(reading_of(i % 2 == 0 ? 3.7 : 6.1, shares[i]));
  for (double d : {1.1, 2.7, 3.9, 3.9, 5.3}) layered.push_back(reading_of_layers({d, 6.4 - d}));
  std::mt19937 random(7);
  for (std::vector<Reading> readings : {plain, shared, layered}) {
    Section s = loose_section({});
    if (!readings[0].layer_depths.empty())
      s.layers = {layer_of("rock-wool-loose"), layer_of("cellulose-loose")},
      s.layers[0].thickness = inches(3);
    s.readings = readings;
    const auto first = numbers(run(survey_of({s})));
    for (int k = 0; k < 40; ++k) {
      std::shuffle(s.readings.begin(), s.readings.end(), random);
      REQUIRE(numbers(run(survey_of({s}))) == first);
    }
  }
}

// Invariant: the same survey gives the same bits twice, and area scales what is counted by area and
// nothing else.
TEST_CASE("area: twice the area takes twice the mass at the same depth and R") {
  Survey one = survey_of({loose_section({2, 4, 6})}), two = one;
  two.sections[0].area = square_feet(2000);
  const Evaluation a = run(one), b = run(two);
  CHECK(numbers(run(one)) == numbers(a));
  CHECK(b.planned.low.sections[0].working_r == a.planned.low.sections[0].working_r);
  CHECK(b.planned.low.sections[0].initial_level == a.planned.low.sections[0].initial_level);
  near(b.planned.low.sections[0].added_mass->us(), 2 * a.planned.low.sections[0].added_mass->us(),
       1e-8);
  near(b.attic.existing.ua.us(), 2 * a.attic.existing.ua.us(), 1e-9);
}

// Invariant: the steps from the yardstick figure lead to the effective R without a gap, each step
// the difference of its neighbours.
TEST_CASE("steps: the losses add up from the yardstick figure to the effective R") {
  Section s = flat_section();
  s.layers = {batt_of(19, 6.25), layer_of("cellulose-loose")};
  for (double d : {0.0, 2.0, 5.5, 7.0, 9.0, 12.0}) s.readings.push_back(reading_of(d));
  const ExistingResult r = run(survey_of({s})).sections[0].existing;
  REQUIRE(r.steps.size() == 7);
  CHECK(r.steps.front().after == r.yardstick_r);
  CHECK(r.steps.back().after == r.effective_r);
  for (std::size_t i = 1; i < r.steps.size(); ++i) {
    near(r.steps[i].change.us(), r.steps[i].after.us() - r.steps[i - 1].after.us(), kNoise);
    const bool may_add = r.steps[i].code == "films-and-ceiling";
    CHECK((may_add || r.steps[i].change.us() <= kNoise));
  }
}
