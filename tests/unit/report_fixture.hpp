// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>

#include "overjoist/report.hpp"
#include "whole_section.hpp"

/// Evaluations made by hand for the tests of the writers: figures that are easy to follow, not
/// physics.
namespace report_fixture {

using namespace overjoist;  // the fixtures name many of the library's words
using fixtures::put_in;
using fixtures::WholeSection;

inline Tables small_tables() {
  Tables t;
  CautionRow vermiculite;
  vermiculite.code = "vermiculite";
  vermiculite.level = CautionLevel::stop;
  vermiculite.brief = "fill taken as asbestos";
  vermiculite.text = "Treat it as asbestos: do not disturb it.";
  vermiculite.who = "asbestos professional";
  vermiculite.clears = "written release";
  CautionRow weight;
  weight.code = "ceiling-weight";
  weight.level = CautionLevel::fix_first;
  weight.brief = "too much weight";
  weight.text =
      "The ceiling would carry {weight}, above its limit of {limit}. Use a lighter fill or brace "
      "it.";
  weight.who = "builder";
  weight.clears = "bracing done";
  CautionRow heat;
  heat.code = "heat";
  heat.text = "A hot attic can kill: work early, drink water, never alone.";
  heat.who = "crew lead";
  t.cautions = {vermiculite, weight, heat};
  t.assumptions = {
      {"default-joists", "joists: {value}", "Not given.", "", ""},
      {"default-target", "target: {low} to {high}", "No zone was given; say your zone.", "", ""},
      {"level-step", "levels are rounded up", "A crew reads quarters off a ruler.", "", ""}};
  t.sources = {{"standard-a", "A standard of assemblies", "published", "", "", "not read"}};
  t.stamps = {{"materials", "1", "0123abcd"}};
  return t;
}

inline ExistingResult thin_layer() {
  ExistingResult x;
  x.mean_depth = inches(4.25);
  x.yardstick_r = r_value(14.87);
  x.working_r = r_value(12.34);
  x.effective_r = r_value(13.21);
  x.effective_r_parallel = r_value(13.21);
  x.effective_r_planes = r_value(12.8);
  x.effective_r_mean = r_value(13.0);
  x.effective_r_two_column = r_value(13.05);
  x.weight = MassPerArea::from_us(0.56);
  x.weight_greatest = MassPerArea::from_us(0.79);
  x.steps = {{"yardstick", {}, r_value(14.87)},
             {"batts-squeezed", {}, r_value(14.87)},
             {"wet", {}, r_value(14.87)},
             {"uneven", r_value(-1.31), r_value(13.56)},
             {"bare", r_value(-1.22), r_value(12.34)},
             {"films-and-ceiling", r_value(1.52), r_value(13.86)},
             {"framing", r_value(-0.65), r_value(13.21)}};
  return x;
}

inline TopUp blown(double target, double level, double bags) {
  TopUp t;
  t.target_r = r_value(target);
  t.initial_level = inches(level);
  t.level_exact = inches(level - 0.1);
  t.reached = true;
  t.settled_level = inches(level - 1.5);
  t.new_depth = NewDepth{inches(level - 8), inches(level - 6), inches(level - 4)};
  t.new_depth_initial = NewDepth{inches(level - 7), inches(level - 5), inches(level - 3)};
  t.working_r = r_value(target + 0.12);
  t.effective_r = r_value(target + 0.55);
  t.effective_r_two_column = r_value(target + 0.5);
  t.added_mass = Mass::from_us(bags * 25 - 3);
  t.bags_exact = bags - 0.25;
  t.bags = bags;
  t.added_weight = MassPerArea::from_us(1.05);
  t.weight = MassPerArea::from_us(1.61);
  t.weight_greatest = MassPerArea::from_us(1.84);
  t.weight_limit = MassPerArea::from_us(2.2);
  return t;
}

inline WholeSection floor_section(const std::string& name) {
  WholeSection s;
  s.name = name;
  s.area = square_feet(1000);
  s.existing = thin_layer();
  s.low = blown(38, 13.25, 42);
  s.high = blown(49, 17, 60);
  return s;
}

inline Totals total(double bags, double material) {
  Totals t;
  t.bags = bags;
  t.bag_net = Mass::from_us(25);
  t.added_mass = Mass::from_us(25 * bags - 3);
  t.blown_area = square_feet(1000);
  t.material = material;
  t.labour = 400;
  t.extras = 80;
  t.cost = material + 480;
  return t;
}

inline Evaluation one_floor() {
  Evaluation e;
  e.id = "oak-12";
  e.label = "12 Oak Street";
  e.currency = "USD";
  e.target = {r_value(38), r_value(49), Basis::working, "5"};
  e.added_material = "cellulose, loose";
  e.planned.low.target = e.target.low;
  e.planned.high.target = e.target.high;
  put_in(e, floor_section("attic floor"));
  e.attic.area = square_feet(1000);
  e.attic.existing = {Conductance::from_us(75.7), r_value(13.21), {}};
  e.planned.low.attic = {Conductance::from_us(25.9), r_value(38.55), {}};
  e.planned.high.attic = {Conductance::from_us(20.2), r_value(49.55), {}};
  e.planned.low.totals = total(42, 630.4);
  e.planned.high.totals = total(60, 900.6);
  e.extra_costs = {{"hatch cover", 80}};
  e.findings.cautions = {{2, CautionLevel::care, "attic", {}, false}};
  e.findings.assumptions = {{0, "attic floor", {{"value", std::string("2x6 at 16 in.")}}},
                            {1, "", {{"low", r_value(38)}, {"high", r_value(49)}}},
                            {2, "", {{"value", inches(0.25)}}}};
  e.findings.sources = {0};
  e.user_keys = {{"x_job", "{\"crew\": 2}"}};
  return e;
}

inline Evaluation stopped_floor() {
  Evaluation e = one_floor();
  e.findings.cautions.insert(
      e.findings.cautions.begin(),
      {{0, CautionLevel::stop, "attic floor", {}, false},
       {1,
        CautionLevel::fix_first,
        "attic floor",
        {{"weight", MassPerArea::from_us(2.4)}, {"limit", MassPerArea::from_us(2.2)}},
        false}});
  e.planned.high.sections[0].within_weight =
      WithinWeight{inches(15.5), r_value(44.01), r_value(44.6)};
  e.findings.cautions.push_back({0,
                                 CautionLevel::note,
                                 "porch",
                                 {{"by", std::string("A. Reader")},
                                  {"date", std::string("2026-02-03")},
                                  {"paper", std::string("release 7")}},
                                 true});
  return e;
}

inline WholeSection hatch() {
  WholeSection s;
  s.name = "hatch";
  s.kind = SectionKind::hatch;
  s.area = square_feet(6);
  s.existing.working_r = r_value(0.4);
  s.existing.effective_r = r_value(1.9);
  s.existing.steps = {{"yardstick", {}, r_value(0.4)},
                      {"films-and-ceiling", r_value(1.5), r_value(1.9)}};
  for (TopUp* t : {&s.low, &s.high}) {
    t->status = TopUpStatus::not_applicable;
    t->target_r = t == &s.low ? r_value(38) : r_value(49);
    t->working_r = r_value(20);
    t->effective_r = r_value(21.5);
  }
  return s;
}

// A floor, a decked part where the deck stops the high end, a met part, a hatch; nothing is priced.
inline Evaluation many_sections() {
  Evaluation e = one_floor();
  WholeSection deck =
      floor_section("storage platform above the hall and the two small bedrooms at the north end");
  deck.kind = SectionKind::decked;
  deck.area = square_feet(220);
  deck.low = blown(38, 9.25, 9);
  for (TopUp* t : {&deck.low, &deck.high}) {
    *t = blown(t == &deck.low ? 38 : 49, 9.25, 9);
    t->status = TopUpStatus::unreachable;
    t->limited_by = LimitedBy::deck;
    t->working_r = r_value(28.06);
  }
  deck.patches = {{"light-cover", "by the bath", square_feet(4.5), r_value(2.1)}};
  deck.removals = {{"cellulose, loose", square_feet(60), Volume::from_us(18.2)}};
  WholeSection good = floor_section("new wing");
  good.area = square_feet(300);
  for (TopUp* t : {&good.low, &good.high}) {
    TopUp met;
    met.target_r = t->target_r;
    met.status = TopUpStatus::met;
    met.bags = met.bags_exact = 0.0;
    met.working_r = r_value(50.2);
    met.effective_r = r_value(50.9);
    *t = met;
  }
  put_in(e, deck);
  put_in(e, good);
  put_in(e, hatch());
  for (Totals* t : {&e.planned.low.totals, &e.planned.high.totals})
    t->material = t->labour = t->extras = t->cost = std::nullopt;
  e.extra_costs.clear();
  return e;
}

inline Evaluation nasty_names() {
  Evaluation e = many_sections();
  e.label = "\x1b]0;owned\x07 \xE2\x80\xAE" + std::string(120, 'W');
  e.sections[0].name =
      "a\nb 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 26 27 28 29 30 31 32 "
      "33 34";
  e.sections[1].name.assign(200, 'x');
  e.sections[1].name +=
      "\xC2\x9B"
      "31m";
  e.findings.cautions[0].where.assign(90, '9');
  e.findings.cautions[0].where += " {heat}";
  return e;
}

inline bool has(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

inline std::size_t count_of(std::string_view text, std::string_view part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string_view::npos;
       at = text.find(part, at + part.size()))
    ++count;
  return count;
}

}  // namespace report_fixture
