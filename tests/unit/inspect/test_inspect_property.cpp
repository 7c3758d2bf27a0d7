// SPDX-License-Identifier: MIT
// Plans of generated surveys, carried out exactly or one bag short. Nothing is worked out here:
// what passes and what does not follows from the plan itself.
#include <random>

#include "inspect_fixture.hpp"

using namespace fixtures;

namespace {

using Engine = std::mt19937;

double between(Engine& engine, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(engine);
}
bool coin(Engine& engine) { return std::uniform_int_distribution<int>(0, 1)(engine) == 1; }
template <class List>
const auto& one_of(Engine& engine, const List& list) {
  return list[std::uniform_int_distribution<std::size_t>(0, std::size(list) - 1)(engine)];
}

/// A floor with old fill of uneven depth, bare spots among it; some have their own shares, some an
/// eave.
Section random_floor(Engine& engine, const std::string& name) {
  static const std::string kSizes[] = {"2x4", "2x6", "2x8", "2x10"},
                           kOld[] = {"cellulose-loose", "glass-fiber-loose", "rock-wool-loose"};
  Section s = flat_section();
  s.name = name;
  s.area = square_feet(std::round(between(engine, 150, 1600)));
  s.joists->size = one_of(engine, kSizes);
  s.joists->spacing = inches(coin(engine) ? 16 : 24);
  s.layers = {layer_of(one_of(engine, kOld))};
  const int count = std::uniform_int_distribution<int>(1, 9)(engine);
  for (int i = 0; i < count; ++i)
    s.readings.push_back(
        reading_of(coin(engine) ? std::round(between(engine, 0, 8)) : between(engine, 0, 8)));
  if (coin(engine)) {  // shares of their own
    for (Reading& r : s.readings) r.share = 1.0 / count;
    if (count > 1) {
      s.readings[0].share *= 1.5;
      s.readings[1].share -= s.readings[0].share / 3;
    }
  }
  if (std::uniform_int_distribution<int>(0, 7)(engine) == 0)
    s.eave = EaveSurvey{inches(6), 5.0, inches(240), {}, {}};
  return s;
}

/// The hand chart with more rows, so that no plan ends at it; or a material of the table without
/// one.
Survey random_survey(Engine& engine) {
  std::vector<Section> sections;
  const int count = std::uniform_int_distribution<int>(1, 3)(engine);
  for (int i = 0; i < count; ++i)
    sections.push_back(random_floor(engine, "floor " + std::to_string(i)));
  Survey s = survey_of(std::move(sections), 38, 38);
  s.target.low = s.target.high = r_value(std::round(between(engine, 25, 60)));
  s.target.basis = coin(engine) ? Basis::working : Basis::effective;
  if (coin(engine)) {
    std::vector<ChartRow> rows = hand_rows();
    rows.push_back(
        {r_value(90), inches(25), inches(31.5), square_feet(24 / 3.0), MassPerArea::from_us(3.0)});
    s.proposal->material.clear();
    s.proposal->product = Product{"invented fill", rows, coin(engine)};
  } else {
    s.proposal->material = coin(engine) ? "cellulose-loose" : "rock-wool-loose";
  }
  s.proposal->bag_net = Mass::from_us(24);
  s.proposal->waste_percent = coin(engine) ? 0.0 : std::round(between(engine, 1, 12));
  return s;
}

bool takes_bags(const WholeSection& s) { return s.high.adds() && *s.high.bags > 0; }

/// What the crew writes down if it does just what the plan says: its bags, and the level at so many
/// markers.
Record carried_out(const Evaluation& plan, Engine& engine) {
  Record r;
  r.depths_are = DepthKind::initial;
  for (const WholeSection& s : sections_of(plan)) {
    if (!takes_bags(s)) continue;
    const int markers = std::uniform_int_distribution<int>(1, 5)(engine);
    r.sections.push_back(
        built(s.name, *s.high.bags,
              std::vector<double>(static_cast<std::size_t>(markers), s.high.initial_level->us())));
  }
  return r;
}

/// The same after settling: over each reading of the survey the plan's settled surface, with the
/// reading's share.
void let_settle(Record& record, const Survey& survey, const Evaluation& plan) {
  const bool chart = survey.proposal->product.has_value();
  const Material* m = tables().material(survey.proposal->material);
  CoverageChart label;
  if (chart) label = CoverageChart(survey.proposal->product->chart, Mass::from_us(24), 0.0);
  record.depths_are = DepthKind::settled;
  for (RecordSection& s : record.sections) {
    const auto at = std::find_if(plan.sections.begin(), plan.sections.end(),
                                 [&](const SectionResult& x) { return x.name == s.name; });
    const auto index = static_cast<std::size_t>(at - plan.sections.begin());
    const Section& found = survey.sections[index];
    const TopUp& high = plan.planned.high.sections[index];
    s.depths.clear();
    for (const Reading& reading : found.readings) {
      const Length initial = std::max(Length{}, *high.initial_level - reading.depth);
      const Length settled = chart ? label.settled_for_initial(initial)
                                   : initial * (1.0 - m->settling_high.value_or(*m->settling_low));
      s.depths.push_back(reading_of((reading.depth + settled).us(), reading.share));
    }
  }
}

void check_exact(const Inspection& in, const Evaluation& plan) {
  CHECK((in.verdict == BuiltVerdict::pass || in.verdict == BuiltVerdict::nothing_planned));
  for (std::size_t i = 0; i < in.sections.size(); ++i) {
    const SectionInspection& s = in.sections[i];
    CHECK((s.verdict == BuiltVerdict::pass || s.verdict == BuiltVerdict::nothing_planned));
    REQUIRE(s.built.has_value());
    CHECK(s.built->working == plan.planned.high.sections[i].working_r);
    CHECK(s.built->effective == plan.planned.high.sections[i].effective_r);
  }
  CHECK(in.totals.short_bags.value_or(0.0) == 0.0);
  CHECK(in.attic_built->ua == plan.planned.high.attic.ua);
}

constexpr int kSurveys = 40;

}  // namespace

// Invariant: bags and level of the plan, bags rounded up, pass in every section and give just the
// R, UA and level of the plan.
TEST_CASE("inspect: a plan carried out exactly passes exactly") {
  Engine engine(20260519);
  int filled = 0;
  for (int i = 0; i < kSurveys; ++i) {
    CAPTURE(i);
    const Survey survey = random_survey(engine);
    const Evaluation plan = run(survey);
    Record record = carried_out(plan, engine);
    filled += static_cast<int>(record.sections.size());
    check_exact(inspected(survey, record), plan);
    let_settle(record, survey, plan);
    check_exact(inspected(survey, record), plan);
  }
  CHECK(filled > kSurveys);
}

// Invariant: the plan's bags in all, rounded up once, are enough for all its sections together; one
// fewer is short by just one.
TEST_CASE("inspect: the whole count of the plan passes, one bag fewer does not") {
  Engine engine(20260520);
  for (int i = 0; i < kSurveys; ++i) {
    CAPTURE(i);
    const Survey survey = random_survey(engine);
    const Evaluation plan = run(survey);
    Record record = carried_out(plan, engine);
    if (record.sections.empty()) continue;
    for (RecordSection& s : record.sections) s.bags.reset();
    record.bags = *plan.planned.high.totals.bags;
    check_exact(inspected(survey, record), plan);
    record.bags = *plan.planned.high.totals.bags - 1;
    const Inspection in = inspected(survey, record);
    CHECK(in.verdict == BuiltVerdict::fluffed);
    CHECK(*in.totals.short_bags == 1);
    CHECK(in.attic_built->ua > plan.planned.high.attic.ua);
  }
}

// Invariant: one bag fewer in one section makes that section short by one, and leaves the others
// alone; one more makes none.
TEST_CASE("inspect: one bag fewer in a section fails by one bag") {
  Engine engine(20260521);
  for (int i = 0; i < kSurveys; ++i) {
    CAPTURE(i);
    const Survey survey = random_survey(engine);
    const Evaluation plan = run(survey);
    Record record = carried_out(plan, engine);
    if (!record.sections.empty()) {
      Record less = record;
      *less.sections[static_cast<std::size_t>(i) % less.sections.size()].bags -= 1;
      const Inspection in = inspected(survey, less);
      CHECK(in.verdict == BuiltVerdict::fluffed);
      CHECK(*in.totals.short_bags == 1);
      int failing = 0;
      for (const SectionInspection& s : in.sections) failing += fails(s.verdict) ? 1 : 0;
      CHECK(failing == 1);
    }
    for (RecordSection& s : record.sections) *s.bags += 1;
    check_exact(inspected(survey, record), plan);
  }
}

// Invariant: a floor blown to the settled level and read at once is short of depth, wherever the
// fill settles at all.
TEST_CASE("inspect: the settled level read as initial never passes") {
  Engine engine(20260522);
  for (int i = 0; i < kSurveys; ++i) {
    CAPTURE(i);
    const Survey survey = random_survey(engine);
    const Evaluation plan = run(survey);
    Record record = carried_out(plan, engine);
    for (RecordSection& s : record.sections) {
      const auto at = std::find_if(plan.sections.begin(), plan.sections.end(),
                                   [&](const SectionResult& x) { return x.name == s.name; });
      const auto index = static_cast<std::size_t>(at - plan.sections.begin());
      const TopUp& high = plan.planned.high.sections[index];
      for (Reading& r : s.depths) r = reading_of(high.settled_level->us());
    }
    for (const SectionInspection& s : inspected(survey, record).sections) {
      if (s.verdict == BuiltVerdict::nothing_planned) continue;
      CHECK(s.verdict == BuiltVerdict::over_dense);
      CHECK(s.depth.settled_for_initial);
      CHECK(s.built->working < s.plan.working_r);
    }
  }
}
