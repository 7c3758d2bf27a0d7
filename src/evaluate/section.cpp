// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "evaluate/blown.hpp"
#include "evaluate/cautions.hpp"
#include "evaluate/cavity.hpp"
#include "evaluate/chain.hpp"
#include "evaluate/damp.hpp"
#include "evaluate/drawing.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/lid.hpp"
#include "evaluate/plausible.hpp"
#include "evaluate/section.hpp"
#include "evaluate/spread.hpp"
#include "evaluate/target.hpp"
#include "evaluate/worked.hpp"
#include "evaluate/year.hpp"
#include "overjoist/clearing.hpp"
#include "overjoist/topup.hpp"

// One section of a survey from its readings to its cautions: the steps of the chain in their order.
namespace overjoist::parts {
namespace {

TopUp untouched(const ExistingResult& now, Resistance target, Basis basis) {
  TopUp t;
  t.target_r = target;
  t.basis = basis;
  t.working_r = now.working_r;
  t.effective_r = now.effective_r;
  t.effective_r_two_column = now.effective_r_two_column;
  t.status = TopUpStatus::not_applicable;
  return t;
}

void eave_cautions(const WorkedSection& r, const Section& section, Length gap, Notes& notes) {
  const TopUp& t = r.planned.high.eave ? r.planned.high : r.planned.low;
  if (!t.eave) return;
  if (!section.eave->vent_gap) notes.assume("vent-gap", section.name, {{"value", gap}});
  notes.assume("eave-as-read", section.name);
  notes.caution(t.eave->no_field ? "eave-all" : "eave-short", section.name,
                {{"target", t.target_r},
                 {"field", t.eave->working_field},
                 {"wedge", t.eave->working_wedge},
                 {"width", t.eave->width}});
}

/// Nobody is asked for more readings than anybody takes.
void forget_endless(ExistingResult& now, const Tables& tables) {
  if (!now.readings_more || *now.readings_more <= tables.figure("readings-most")) return;
  now.readings_more.reset();
  now.readings_needed.reset();
}

/// The section as found.
SectionResult found_section(const BuiltSection& built, Notes& notes) {
  const Section& section = *built.survey;
  SectionResult r;
  r.name = section.name;
  r.kind = section.kind;
  r.area = section.area;
  r.heated_below = section.below.value_or(Below::heated) == Below::heated;
  r.ends = built.ends.both();
  r.existing = existing_result(built);
  r.patches = patches(built, notes);
  r.removals = removals(built);
  return r;
}

/// What either end takes of a floor over heated rooms, or what it was really blown to.
Ends<TopUp> plan_floor(BuiltSection& built, const TargetBand& band, const SectionsWork& work,
                       const LeftAs* left, const CeilingLimit* limit) {
  built.floor = base_floor(built);
  const BaseFloor& floor = *built.floor;
  if (left) {
    const TopUp t = topped_up(built, floor, work.blow, {band.high, band.basis, limit},
                              left->level.value_or(Length{}));
    return {t, t};
  }
  const FloorR now = floor_r(floor, work.blow.fill, Length{});
  return each_end([&](End end) {
    return top_up(built, floor, now, work.blow, {band.ends()[end], band.basis, limit});
  });
}

/// A row of gypsum board with a thickness of its own, too little to carry insulation.
bool thin_gypsum(const Section& s, const Tables& tables) {
  constexpr std::string_view kGypsum = "gypsum";
  return s.ceiling && s.ceiling->thickness &&
         s.ceiling->material.compare(0, kGypsum.size(), kGypsum) == 0 &&
         !reaches(s.ceiling->thickness->us(), tables.figure("gypsum-least"));
}

/// Of the ceiling board; null: none is published for it.
const CeilingLimit* limit_of(const BuiltSection& built, const Tables& tables) {
  return built.thin_board ? nullptr : ceiling_limit(tables, built.board, built.spacing);
}

/// R after the work on a floor by two coupled columns. An eave's strip is taken to lose the same
/// share as the rest.
Resistance columns_after(const TopUp& t, const BaseFloor& floor, const BaseFloor& columns,
                         const Blow& blow) {
  if (floor.framing.method == FramingMethod::two_column) return t.effective_r;
  const bool laid = !t.batts.empty();
  const Length level = laid ? Length{} : t.initial_level.value_or(Length{});
  const auto u_of = [&](const BaseFloor& field) {
    double u = 0.0;
    for (const BaseSpot& spot : field.spots) {
      const Length settled = new_settled(spot, blow.fill, level);
      u += spot.share * spot_under(field, spot, settled, blow.fill.r(settled)).both_u;
    }
    return u;
  };
  const double u = u_of(laid ? laid_floor(columns, blow, t, LaidSide::middle) : columns);
  return t.eave ? t.effective_r * (u_of(floor) / u) : r_value(1.0 / u);
}

/// A section on its way: `after` is a slope or wall with what goes into it.
struct OnItsWay {
  WorkedSection r;
  std::optional<BuiltSection> after;
};

/// What either end takes, before ranges and cautions.
void plan_work(OnItsWay& way, BuiltSection& built, const SectionsWork& work,
               const TargetBand& band) {
  const LeftAs* left = work.left ? &work.left->at(work.spreads.size()) : nullptr;
  const CeilingLimit* limit = limit_of(built, work.job.tables);
  WorkedSection& r = way.r;
  const ExistingResult& now = r.found.existing;
  r.planned = each_end([&](End end) { return untouched(now, band.ends()[end], band.basis); });
  if (is_lid(built.survey->kind)) {
    plan_lid(r, built, work.job.notes);
    for (TopUp* t : each(r.planned)) t->effective_r_two_column = t->effective_r;
  } else if (is_cavity(built.survey->kind)) {
    if (r.found.heated_below && !now.in_doubt && (!left || left->as_planned))
      way.after = plan_cavity(r, built, work.job);
    if (!way.after) return;
    weigh_cavity(r, *way.after, limit);
    const Resistance columns = columns_r(*way.after);
    for (TopUp* t : each(r.planned)) t->effective_r_two_column = columns;
  } else if (r.found.heated_below && !built.unmeasured && !now.in_doubt) {
    r.planned = plan_floor(built, band, work, left, limit);
    const BaseFloor columns = in_columns(built, *built.floor);
    for (TopUp* t : each(r.planned))
      t->effective_r_two_column = columns_after(*t, *built.floor, columns, work.blow);
  }
}

/// Wide timber or foam: the parallel path is more hopeful than two columns by more than 3 %.
bool is_hopeful(Resistance parallel, Resistance columns) {
  constexpr double kMost = 1.03;  // method eq. 5a
  return parallel > columns * kMost;
}

/// Takes the smaller R where the parallel path is hopeful, as found and after the work each by
/// itself. What counts nothing, wet or soiled, has no R of which one could be.
void take_smaller(OnItsWay& way, BuiltSection& built, const SectionsWork& work,
                  const TargetBand& band) {
  const ExistingResult& now = way.r.found.existing;
  const bool counts = std::none_of(built.layers.begin(), built.layers.end(),
                                   [](const BuiltLayer& l) { return l.counts_nothing(); });
  const bool found = counts && is_hopeful(now.effective_r, now.effective_r_two_column);
  const bool after = either(way.r.planned, [](const TopUp& t) {
    return is_hopeful(t.effective_r, t.effective_r_two_column);
  });
  if (!found && !after) return;
  work.job.notes.assume("two-column-taken", built.survey->name);
  BuiltSection other = built;
  use_columns(found ? built : other);
  if (found && after) use_columns(other);
  if (found) way.r.found = found_section(built, work.job.notes);
  plan_work(way, other, work, band);
  built.floor = other.floor;
}

}  // namespace

WorkedSection work_section(const Section& section, SectionsWork& work) {
  const auto& [job, attic_band, blow, stages, savings, spreads, all_left, prior] = work;
  const auto& [survey, tables, notes] = job;
  BuiltSection built = build_section(section, job);
  const TargetBand band = section_band(section, attic_band, tables, notes);
  section_cautions(built, tables, notes);
  for (const std::string& code : board_cautions(section, survey, tables))
    notes.caution(code, section.name);
  if (thin_gypsum(section, tables)) notes.caution("ceiling-thin", section.name);
  OnItsWay way{{found_section(built, notes), {}}, {}};
  plan_work(way, built, work, band);
  if (built.framing.method == FramingMethod::parallel) take_smaller(way, built, work, band);
  auto& [r, after] = way;
  for (TopUp* t : each(r.planned)) t->reached = reaches(t->after().us(), t->target_r.us());
  work.spreads.push_back(section_ranges(r, built, after ? &*after : nullptr, {blow, prior, notes}));
  forget_endless(r.found.existing, tables);
  eave_cautions(r, section, built.vent_gap, notes);
  add_moisture(r, built, survey, notes);
  facing_cautions(built, r.found, notes);
  plausible_section(built, job);
  add_cut(r, built, blow, survey, tables);
  weight_cautions(built, r, limit_of(built, tables), tables, notes);
  plan_cautions(built, r, blow, notes);
  Notes unsaid(tables);  // without a saving its assumptions are none of the result
  work.savings.push_back(
      section_saving(built, r, {stages, blow, band.basis}, stages.empty() ? unsaid : notes));
  return r;
}

void level_notes(const Ends<Planned>& planned, Method method, Notes& notes) {
  if (method == Method::laid) return;
  bool room = false, rounded = false;
  for (const Planned* job : each(planned))
    for (const TopUp& t : job->sections) {
      if (!t.initial_level) continue;
      const bool whole = t.level_exact &&
                         reaches(t.initial_level->us(), round_up(t.level_exact->us(), kLevelStep));
      (whole ? rounded : room) = true;
    }
  if (rounded || !room) notes.assume("level-step", "", {{"value", inches(kLevelStep)}});
  if (room) notes.assume("level-is-room");
}

}  // namespace overjoist::parts
