// SPDX-License-Identifier: MIT
#include "overjoist/evaluate.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <utility>

#include "evaluate/parts.hpp"
#include "overjoist/clearing.hpp"
#include "overjoist/diagnostics.hpp"
#include "overjoist/money.hpp"

namespace overjoist {
namespace parts {
namespace {

bool rule_holds(const ZoneRule& rule, double hdd, double cdd, bool marine) {
  return (!rule.marine || marine) && (!rule.cdd50_above || cdd > *rule.cdd50_above) &&
         (!rule.cdd50_upto || cdd <= *rule.cdd50_upto) &&
         (!rule.hdd65_above || hdd > *rule.hdd65_above) &&
         (!rule.hdd65_upto || hdd <= *rule.hdd65_upto);
}

/// Zone number from the site, 0 if it is not known; zone 0 counts as 1 (model 9).
int zone_of(const Site& site, const Tables& tables, Notes& notes) {
  if (!site.climate_zone.empty()) {
    notes.assume("zone-given", "", {{"value", site.climate_zone}});
    return std::max(1, site.climate_zone[0] - '0');
  }
  if (!site.hdd65_f_day || !site.cdd50_f_day) {
    if (site.hdd65_f_day || site.cdd50_f_day) notes.assume("degree-days-half");
    return 0;
  }
  for (const ZoneRule& rule : tables.zones)
    if (rule_holds(rule, *site.hdd65_f_day, *site.cdd50_f_day, site.marine.value_or(false))) {
      notes.assume("zone-from-degree-days", "",
                   {{"value", fmt::format("{}{}", rule.zone, rule.marine ? "C" : "")}});
      return rule.zone;
    }
  return 0;
}

void band_of_zone(TargetBand& band, int zone, const Tables& tables, Notes& notes) {
  band.low = tables.default_low;
  band.high = tables.default_high;
  const auto row = std::find_if(tables.targets.begin(), tables.targets.end(),
                                [&](const TargetRow& r) { return r.zone == zone; });
  if (row == tables.targets.end()) {
    notes.assume("default-target", "", {{"low", band.low}, {"high", band.high}});
    return;
  }
  band.zone = static_cast<char>('0' + zone);
  band.low = row->low;
  band.high = row->high;
  notes.use_sources(row->sources);
}

}  // namespace

TargetBand target_band(const Survey& survey, const Tables& tables, Notes& notes) {
  TargetBand band;
  const TargetRequest& wish = survey.target;
  if (wish.low || wish.high) {
    band.low = wish.low ? *wish.low : *wish.high;
    band.high = wish.high ? *wish.high : *wish.low;
    if (!survey.site.climate_zone.empty())
      band.zone =
          std::max('1', survey.site.climate_zone[0]);  // told, though the band does not follow it
    if (!wish.low || !wish.high) notes.assume("band-one-given", "", {{"value", band.low}});
    if (band.low > band.high)
      throw Error(ErrorCode::contradiction, "target", "low_r is above high_r",
                  "give the lower figure as low_r");
  } else {
    band_of_zone(band, zone_of(survey.site, tables, notes), tables, notes);
  }
  if (!wish.basis) notes.assume("basis-working");
  band.basis = wish.basis.value_or(Basis::working);
  return band;
}

namespace {

TopUpResult untouched(const ExistingResult& now, const TargetBand& band, bool high_end) {
  TopUpResult t;
  t.target_r = high_end ? band.high : band.low;
  t.basis = band.basis;
  t.working_r = now.working_r;
  t.effective_r = now.effective_r;
  t.status = TopUpStatus::not_applicable;
  return t;
}

void plan_hatch(SectionResult& result, const BuiltSection& built, Notes& notes) {
  const Section& s = *built.survey;
  for (TopUpResult* t : {&result.low, &result.high}) {
    if (s.after_insulation_r) {
      t->working_r = *s.after_insulation_r;
      t->effective_r = *s.after_insulation_r + built.ends.both();
    }
    const Resistance value = t->basis == Basis::working ? t->working_r : t->effective_r;
    if (reaches(value.us(), t->target_r.us())) t->status = TopUpStatus::met;
  }
  const ExistingResult& now = result.existing;
  const Resistance found = result.high.basis == Basis::working ? now.working_r : now.effective_r;
  if (!reaches(found.us(), result.high.target_r.us()))
    notes.caution("hatch-below-attic", result.name,
                  {{"r", found}, {"target", result.high.target_r}});
  if (!s.after_insulation_r) return;
  notes.assume("hatch-plan", result.name, {{"value", *s.after_insulation_r}});
  if (*s.after_insulation_r < now.working_r)
    notes.caution("hatch-plan-lower", result.name,
                  {{"planned", *s.after_insulation_r}, {"r", now.working_r}});
}

std::vector<PatchResult> patches(const BuiltSection& built, Notes& notes) {
  std::vector<PatchResult> list;
  for (const Patch& p : built.survey->patches) {
    const Resistance bare = built.ends.both();
    if (!p.total_r) notes.assume("patch-bare", built.survey->name, {{"value", bare}});
    list.push_back({p.kind, p.where, p.area, p.total_r.value_or(bare)});
  }
  return list;
}

/// What every section of a survey is worked out with.
struct SectionsWork {
  const Survey& survey;
  const Tables& tables;
  const TargetBand& band;
  const Blow& blow;
  std::vector<Stage> stages;
  std::vector<SectionSaving> savings;  ///< one for each section that was worked out
  std::vector<SectionSpread> spreads;  ///< one for each section
  const std::vector<LeftAs>* left = nullptr;
};

/// The section's own target, that of every knee wall, or the attic's band.
TargetBand section_band(const Section& section, const TargetBand& attic, const Tables& tables,
                        Notes& notes) {
  TargetBand band = attic;
  if (section.target_r) {
    band.low = band.high = *section.target_r;
  } else if (section.kind == SectionKind::knee_wall) {
    band.low = band.high = tables.knee_wall_r;
    notes.assume("knee-wall-target", section.name, {{"value", tables.knee_wall_r}});
  }
  return band;
}

void eave_cautions(const SectionResult& r, const Section& section, Length gap, Notes& notes) {
  const TopUpResult& t = r.high.eave ? r.high : r.low;
  if (!t.eave) return;
  if (!section.eave->vent_gap) notes.assume("vent-gap", section.name, {{"value", gap}});
  notes.assume("eave-as-read", section.name);
  notes.caution(t.eave->no_field ? "eave-all" : "eave-short", section.name,
                {{"target", t.target_r},
                 {"field", t.eave->working_field},
                 {"wedge", t.eave->working_wedge},
                 {"width", t.eave->width}});
}

/// Beyond what anybody reads, the bare area is to be measured instead.
void ask_for_area(ExistingResult& now, const Tables& tables) {
  if (!now.readings_more || *now.readings_more <= tables.figure("readings-most")) return;
  now.readings_more.reset();
  now.measure_bare = true;
}

SectionResult section_result(const Section& section, SectionsWork& work, Notes& notes) {
  const auto& [survey, tables, attic_band, blow, stages, savings, spreads, all_left] = work;
  const LeftAs* left = all_left ? &all_left->at(spreads.size()) : nullptr;
  BuiltSection built = build_section(section, survey, tables, notes);
  SectionResult r;
  r.name = section.name;
  r.kind = section.kind;
  r.area = section.area;
  r.heated_below = section.below.value_or(Below::heated) == Below::heated;
  r.ends = built.ends.both();
  r.existing = existing_result(built);
  const TargetBand band = section_band(section, attic_band, tables, notes);
  r.low = untouched(r.existing, band, false);
  r.high = untouched(r.existing, band, true);
  r.patches = patches(built, notes);
  r.removals = removals(built);
  section_cautions(built, tables, notes);
  for (const std::string& code : board_cautions(section, survey, tables))
    notes.caution(code, section.name);
  const CeilingLimit* limit =
      built.thin_board ? nullptr : ceiling_limit(tables, built.board, built.spacing);
  std::optional<BuiltSection> after;
  if (is_lid(section.kind)) {
    plan_hatch(r, built, notes);
  } else if (is_cavity(section.kind)) {
    if (r.heated_below && !r.existing.in_doubt && (!left || left->as_planned))
      after = plan_cavity(r, built, survey, tables, notes);
    if (after) weigh_cavity(r, *after, limit);
  } else if (r.heated_below && !built.unmeasured && !r.existing.in_doubt) {
    built.floor = base_floor(built);
    const FloorR now = floor_r(*built.floor, blow.fill, Length{});
    if (left) {
      r.low = r.high =
          topped_up(built, *built.floor, blow, band, left->level.value_or(Length{}), limit);
    } else {
      r.low = top_up(built, *built.floor, now, blow, {band.low, band.basis}, limit);
      r.high = top_up(built, *built.floor, now, blow, {band.high, band.basis}, limit);
    }
  }
  for (TopUpResult* t : {&r.low, &r.high}) t->reached = reaches(t->after().us(), t->target_r.us());
  work.spreads.push_back(section_ranges(r, built, after ? &*after : nullptr, blow, notes));
  ask_for_area(r.existing, tables);
  eave_cautions(r, section, built.vent_gap, notes);
  add_moisture(r, built, survey, notes);
  facing_cautions(built, r, notes);
  plausible_section(built, survey, tables, notes);
  add_cut(r, built, blow, survey, tables);
  plan_cautions(built, r, blow, limit, tables, notes);
  Notes unsaid(tables);  // without a saving its assumptions are none of the result
  work.savings.push_back(
      section_saving(built, r, stages, blow, band.basis, stages.empty() ? unsaid : notes));
  return r;
}

/// Whether levels were rounded up, or are the room itself.
void level_notes(const std::vector<SectionResult>& sections, Method method, Notes& notes) {
  if (method == Method::laid) return;
  bool room = false, rounded = false;
  for (const SectionResult& s : sections)
    for (const TopUpResult* t : {&s.low, &s.high}) {
      if (!t->initial_level) continue;
      const bool whole = t->level_exact && reaches(t->initial_level->us(),
                                                   round_up(t->level_exact->us(), kLevelStep));
      (whole ? rounded : room) = true;
    }
  if (rounded || !room) notes.assume("level-step", "", {{"value", inches(kLevelStep)}});
  if (room) notes.assume("level-is-room");
}

/// UA over heated sections and patches (model 8); a section over an unheated space saves nothing.
AtticResult attic_result(const std::vector<SectionResult>& sections) {
  AtticResult a;
  const auto add = [&](Area area, Resistance now, Resistance low, Resistance high) {
    a.area += area;
    a.existing.ua += inverse(now) * area;
    a.low.ua += inverse(low) * area;
    a.high.ua += inverse(high) * area;
  };
  for (const SectionResult& s : sections) {
    if (!s.heated_below) continue;
    add(s.area, s.existing.effective_r, s.low.effective_r, s.high.effective_r);
    for (const PatchResult& p : s.patches) add(p.area, p.total_r, p.total_r, p.total_r);
  }
  for (AtticState* state : {&a.existing, &a.low, &a.high})
    if (state->ua > Conductance{}) state->effective_r = inverse(state->ua / a.area);
  return a;
}

TotalsResult totals(const std::vector<SectionResult>& sections, bool high_end, const Blow& blow,
                    const Proposal& proposal) {
  TotalsResult t;
  if (blow.method == Method::blown) t.bag_net = blow.bag_net;
  std::vector<const TopUpResult*> tops;
  std::optional<Mass> mass = Mass{};
  for (const SectionResult& s : sections) {
    const TopUpResult& top = high_end ? s.high : s.low;
    if (!adds(top)) continue;
    tops.push_back(&top);
    t.blown_area += s.area;
    mass = mass && top.bags_exact && top.added_mass ? std::optional(*mass + *top.added_mass)
                                                    : std::nullopt;
  }
  Goods goods = goods_of(tops, blow);
  if (mass) {
    t.bags = goods.bags;
    t.added_mass = mass;
  }
  t.board_ft = goods.board_ft;
  t.packages = std::move(goods.packages);
  const Cost cost = work_cost(proposal, goods.price, t.blown_area);
  t.material = cost.material;
  t.labour = cost.labour;
  t.extras = cost.extras;
  t.tax = cost.tax;
  t.cost = cost.total;
  return t;
}

/// While a fill taken as asbestos is not cleared, the result says so, and no reading is asked for.
void keep_hands_off(Evaluation& e, Notes& notes) {
  e.hands_off = notes.hands_off();
  if (!e.hands_off) return;
  notes.caution("hands-off", "attic");
  for (SectionResult& s : e.sections) {
    s.existing.readings_needed.reset();
    s.existing.readings_more.reset();
    s.existing.measure_bare = false;
  }
}

}  // namespace
}  // namespace parts

namespace parts {

Evaluation evaluate_left(const Survey& survey, const Tables& tables,
                         const std::vector<LeftAs>* left) {
  Notes notes(tables);
  Evaluation e;
  e.id = survey.id;
  e.label = survey.label;
  e.surveyed_by = survey.surveyed_by;
  e.surveyed_date = survey.surveyed_date;
  e.user_keys = survey.extras;
  e.framing_method = tables.framing_method;
  e.target = target_band(survey, tables, notes);

  Proposal proposal = survey.proposal.value_or(Proposal{});
  if (!survey.proposal) {
    proposal.material = "cellulose-loose";
    notes.assume("default-proposal", "", {{"value", proposal.material}});
  }
  e.currency = proposal.currency;
  e.price_per_bag = proposal.price_per_bag;
  if (survey.money) proposal.tax = tax_of(*survey.money);
  Blow blow;
  prepare_blow(blow, proposal, survey, tables, notes);
  e.added_material = blow.name;
  e.method = blow.method;

  for (const Hazard& hazard : survey.hazards) notes.hazard(hazard, survey);
  spoiled_place_cautions(survey, tables, notes);
  if (survey.site.year_built && *survey.site.year_built < 1978)
    notes.caution("lead-paint", "attic");  // renovation rule, 40 CFR 745 (from memory)
  e.sections.reserve(survey.sections.size());
  SectionsWork work{survey, tables, e.target, blow, stages_of(survey, e.target, tables),
                    {},     {},     left};
  for (const Section& section : survey.sections) {
    if (!section.below) notes.assume("below-heated", section.name);
    e.sections.push_back(section_result(section, work, notes));
  }
  level_notes(e.sections, blow.method, notes);
  notes.assume("framing-method", "", {{"value", std::string(method_words(e.framing_method))}});
  notes.assume(survey.site.unvented() ? "unvented-attic" : "vented-attic");
  notes.assume("ranges");
  notes.standing();

  e.unpriced = unpriced_work(proposal, e.sections);
  e.attic = attic_result(e.sections);
  attic_ranges(e.attic, e.sections, work.spreads);
  e.low = totals(e.sections, false, blow, proposal);
  e.high = totals(e.sections, true, blow, proposal);
  for (const Extra& extra : proposal.extras) e.extra_costs.push_back({extra.what, extra.price});
  add_savings(e, survey, {proposal, blow, work.stages, work.savings}, tables, notes);
  if (!proposal.tax && (e.high.material || e.high.labour || e.high.extras)) notes.assume("no-tax");
  hold_claims(e, survey, proposal);
  hold_rebates(e, survey);
  plan_job(e, survey, tables, notes);
  add_sealing_saving(e, survey, tables, notes);
  plausible_survey(survey, tables, notes);
  keep_hands_off(e, notes);
  e.cautions = notes.take_cautions();
  e.plan.readiness = readiness(e, survey, tables);
  e.assumptions = notes.take_assumptions();
  e.sources = notes.take_sources();
  return e;
}

namespace {

/// Every alternative is the same attic with another proposal, worked out by itself.
void add_compare(Evaluation& e, const Survey& survey, const Tables& tables) {
  Survey other = survey;
  e.compare.reserve(survey.compare.size() + 1);
  e.compare.push_back(compare_row(e, survey.proposal ? survey.proposal->name : std::string()));
  for (const Proposal& proposal : survey.compare) {
    other.proposal = proposal;
    e.compare.push_back(compare_row(evaluate_left(other, tables, nullptr), proposal.name));
  }
}

}  // namespace
}  // namespace parts

Evaluation evaluate(const Survey& survey, const Tables& tables) {
  Evaluation e = parts::evaluate_left(survey, tables, nullptr);
  if (!survey.compare.empty()) parts::add_compare(e, survey, tables);
  return e;
}

}  // namespace overjoist
