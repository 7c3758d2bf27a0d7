// SPDX-License-Identifier: MIT
#include <algorithm>
#include <numeric>

#include "evaluate/equipment.hpp"
#include "evaluate/leaks.hpp"
#include "evaluate/site.hpp"
#include "overjoist/clearing.hpp"

// The plan of method 17: what is sealed, vented and counted, and whether the work may start.
namespace overjoist::parts {
namespace {

constexpr Length kUsualSpacing =
    inches(16);  // joists where none is given; `build_section` lists it as an assumption

double count_of(const Bypass& bypass) { return bypass.count > 0 ? bypass.count : 1.0; }

bool is_lid(const Bypass& bypass, const Tables& tables) {
  const BypassRow* row = tables.bypass(bypass.kind);
  return row && row->sealant == Sealant::weatherstrip;
}

// ---- Sealing

/// A hatch that nobody entered as a bypass still gets board and weatherstrip.
Bypass hatch_opening(const Section& section) {
  Bypass b;
  b.kind = section.kind == SectionKind::hatch ? "hatch" : "pull-down-stair";
  b.where = section.name;
  b.length = section.length;
  b.width = section.width;
  if (!b.length || !b.width) b.area = section.area;
  b.inferred = true;
  return b;
}

/// A bypass as `sealing_list` takes it: with its place, and bays counted by its own section's
/// joists.
Bypass placed(const Bypass& given, const Section& section, const Tables& tables) {
  Bypass b = given;
  if (b.where.empty()) b.where = section.name;
  const BypassRow* row = tables.bypass(b.kind);
  const Length spacing =
      section.joists && section.joists->spacing ? *section.joists->spacing : kUsualSpacing;
  if (row && row->unit == BypassUnit::bay && !(b.count > 0) && b.length)
    b.count = round_up(*b.length / spacing, 1.0);
  return b;
}

std::vector<Bypass> all_bypasses(const Job& job) {
  std::vector<Bypass> list;
  for (const Section& section : job.survey.sections) {
    for (const Bypass& b : section.bypasses) list.push_back(placed(b, section, job.tables));
    const bool entered = std::any_of(section.bypasses.begin(), section.bypasses.end(),
                                     [&](const Bypass& b) { return is_lid(b, job.tables); });
    if (!is_lid(section.kind) || entered) continue;
    list.push_back(hatch_opening(section));
    job.notes.assume("hatch-opening", section.name, {{"value", section.area}});
  }
  return list;
}

void item_notes(const SealingItem& item, const Tables& tables, Notes& notes) {
  const BypassRow& row = *tables.bypass(item.kind);
  notes.use_sources(row.sources);
  if (row.leak && !item.inferred) notes.use_sources(row.leak->sources);
  if (!item.quantity) notes.caution("bypass-not-measured", item.where, {{"kind", item.name}});
  if (item.size_from_table) {
    const Area one = square_inches(row.opening_length->us() * row.opening_width->us());
    notes.assume("bypass-size", item.where, {{"kind", item.name}, {"value", one}});
  }
  if (item.rim_is_least && item.quantity)
    notes.assume("square-rim", item.where, {{"kind", item.name}});
}

void plan_sealing(Plan& plan, const std::vector<Bypass>& bypasses, const Job& job) {
  SealingOptions options;
  options.waste = job.survey.sealing.waste_percent.value_or(0.0) / 100;
  options.board_ft_per_can = job.survey.sealing.foam_board_ft_per_can;
  plan.sealing = sealing_list(bypasses, job.tables, options);
  int unknown = 0;
  for (const SealingItem& item : plan.sealing.items) {
    item_notes(item, job.tables, job.notes);
    if (item.inferred) continue;
    ++plan.entered;
    unknown += item.leak_typical ? 0 : 1;
  }
  if (unknown > 0)
    job.notes.caution("leak-unknown", "attic",
                      {{"count", static_cast<double>(plan.sealing.totals.leaks_unknown)}});
  if (plan.sealing.items.empty()) return;
  use_figures(job.notes, job.tables,
              {"tube-small", "tube-large", "sheet-waste", "weatherstrip-waste"});
  if (!job.survey.sealing.waste_percent && plan.entered > 0) job.notes.assume("no-sealant-waste");
  if (!job.survey.sealing.foam_board_ft_per_can && plan.sealing.totals.tubes_small > 0)
    job.notes.assume("foam-as-caulk");
  const std::size_t combustion = job.tables.caution("combustion-test");
  plan.tests = {{combustion, TestTime::before_sealing},
                {combustion, TestTime::after_sealing},
                {job.tables.caution("tight-house"), TestTime::after_sealing}};
  if (plan.entered == 0) return;
  job.notes.caution("combustion-test", "attic");
  job.notes.caution("tight-house", "attic");
}

// ---- Vents

std::optional<int> zone_number(const Survey& survey, const TargetBand& target) {
  const std::string& zone =
      survey.site.climate_zone.empty() ? target.zone : survey.site.climate_zone;
  if (zone.empty()) return {};
  return zone[0] - '0';
}

Area attic_floor(const Survey& survey) {
  Area sum;
  for (const Section& s : survey.sections) {
    if (is_cavity(s.kind)) continue;
    sum += s.area;
    for (const Patch& p : s.patches) sum += p.area;
  }
  return sum;
}

void plan_vents(Plan& plan, const Job& job, const TargetBand& target) {
  plan.unvented = job.survey.site.unvented();
  if (plan.unvented) return;
  VentilationPlan v;
  v.entered = job.survey.ventilation.has_value();
  v.attic = attic_floor(job.survey);
  if (!(v.attic > Area{})) return;
  const VentilationSurvey given = job.survey.ventilation.value_or(VentilationSurvey{});
  set(v, given);
  v.need = vent_need({v.attic, v.high, v.low, zone_number(job.survey, target), given.retarder},
                     job.tables);
  plan.ventilation = v;
  if (!v.entered) return;
  use_figures(job.notes, job.tables,
              {"vent-ratio", "vent-ratio-reduced", "vent-retarder-zone", "vent-upper-low",
               "vent-upper-high"});
  job.notes.assume("vented-area", "", {{"value", v.attic}});
  if (v.need.verdict == VentVerdict::short_of) job.notes.caution("vents-short", "attic");
  if (v.need.verdict == VentVerdict::unknown) job.notes.caution("vents-unknown", "attic");
}

// ---- Counts

int sum_of(const std::vector<Bypass>& bypasses, std::initializer_list<std::string_view> kinds) {
  double sum = 0;
  for (const Bypass& b : bypasses)
    if (std::find(kinds.begin(), kinds.end(), b.kind) != kinds.end()) sum += count_of(b);
  return static_cast<int>(sum);
}

bool is_seen(const Survey& survey, const Tables& tables,
             std::initializer_list<std::string_view> kinds) {
  return std::any_of(survey.hazards.begin(), survey.hazards.end(), [&](const Hazard& h) {
    return std::find(kinds.begin(), kinds.end(), h.kind) != kinds.end() &&
           !is_cleared(h, survey, tables);
  });
}

/// What does not depend on the end of the target band.
JobFacts job_facts(const std::vector<Bypass>& bypasses, const Survey& survey,
                   const Tables& tables) {
  JobFacts facts;
  double lids = 0;
  for (const Bypass& b : bypasses) lids += is_lid(b, tables) ? count_of(b) : 0.0;
  facts.lids.resize(
      static_cast<std::size_t>(lids));  // their board and weatherstrip are on the sealing list
  facts.flues = sum_of(bypasses, {"flue", "masonry-chimney"});
  facts.non_ic_lights = sum_of(bypasses, {"recessed-light-non-ic"});
  facts.buried_boxes = sum_of(bypasses, {"ceiling-box"});
  for (const Section& s : survey.sections)
    for (const Patch& p : s.patches) facts.equipment += p.kind == "platform" ? 1 : 0;
  if (!survey.ventilation || survey.site.unvented()) return facts;
  const VentilationSurvey& v = *survey.ventilation;
  const bool no_low_vents = v.low && *v.low == Area{};
  facts.vented_eave = no_low_vents ? Length{} : v.eave_length.value_or(Length{});
  facts.rafter_spacing = v.rafter_spacing;
  return facts;
}

PlanCounts counts_of(JobFacts facts, const Planned& planned, const Survey& survey,
                     const Evaluation& e, const Tables& tables) {
  facts.blown = planned.totals.blown_area;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const TopUp& t = planned.sections[i];
    if (t.adds())
      facts.level =
          std::max(facts.level, t.initial_level.value_or(t.settled_level.value_or(Length{})));
    else if (is_floor(e.sections[i].kind))
      ++facts.edges;
  }
  if (!(facts.blown > Area{})) facts.edges = 0;
  const JobCounts job = job_counts(facts, tables);
  PlanCounts c;
  const bool eave_known = survey.site.unvented() ||
                          (survey.ventilation &&
                           (survey.ventilation->eave_length || survey.ventilation->low == Area{}));
  if (eave_known) c.baffles = job.baffles;
  const bool flues_counted = facts.flues > 0 || !is_seen(survey, tables, {"flue", "chimney"});
  if (flues_counted) c.flue_dams = job.flue_dams;
  if (flues_counted) c.dams = job.dams;
  if (facts.non_ic_lights > 0 || !is_seen(survey, tables, {"non-ic-light"}))
    c.light_covers = job.light_covers;
  c.markers = job.markers;
  c.edge_dams = facts.edges;
  c.flags = job.flags;
  if (facts.blown > Area{}) c.dam_height = job.dam_height;
  if (facts.blown > Area{}) c.flue_dam_height = job.flue_dam_height;
  const SealingList& sealing = e.plan.sealing;
  for (const SealingItem& item : sealing.items)
    if (item.sealant == Sealant::weatherstrip) c.lid_board += item.board;
  c.weatherstrip_ft = sealing.totals.weatherstrip_ft;
  return c;
}

}  // namespace

void plan_job(Evaluation& e, const Job& job) {
  Plan& plan = e.plan;
  plan.equipment = job.survey.equipment;
  equipment_cautions(job);
  const std::vector<Bypass> bypasses = all_bypasses(job);
  plan_sealing(plan, bypasses, job);
  plan_leak_heat(plan, job);
  plan_vents(plan, job, e.target);
  const JobFacts facts = job_facts(bypasses, job.survey, job.tables);
  for (Planned* planned : each(e.planned))
    planned->counts = counts_of(facts, *planned, job.survey, e, job.tables);
  const auto counts = map(e.planned, &Planned::counts);
  if (either(counts, [](const PlanCounts& c) { return c.edge_dams > 0; }))
    job.notes.assume("edge-dams");
  if (either(counts, [](const PlanCounts& c) { return c.markers > 0; }))
    use_figures(job.notes, job.tables, {"marker-area"});
  if (counts.low.flue_dams.value_or(0) > 0) use_figures(job.notes, job.tables, {"dam-flue-margin"});
}

}  // namespace overjoist::parts
