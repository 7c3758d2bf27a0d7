// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <algorithm>

#include "evaluate_parts.hpp"
#include "overjoist/diagnostics.hpp"

// The yearly saving (method eq. 13), what it is worth (eq. 14) and the next-step table (eq. 14a) of a whole attic.
namespace overjoist::parts {
namespace {

constexpr double kSiteBase = 65.0;  // of Site::hdd65_f_day

/// A default of the money table; its sources are then among those of the result.
double taken(const Tables& tables, std::string_view id, Notes& notes) {
  const auto row = std::find_if(tables.money.begin(), tables.money.end(), [&](const MoneyDefault& d) { return d.id == id; });
  if (row != tables.money.end()) notes.use_sources(row->sources);
  return tables.money_default(id);
}

/// Effective R as found, but squeezed batts at the high end of their range, and wet or soiled layers at their dry high R.
Resistance high_r(const BuiltSection& built, Notes& notes) {
  std::vector<BuiltLayer> layers = built.layers;
  for (BuiltLayer& layer : layers) {
    layer.side = BattSide::high;
    if (!layer.counts_nothing()) continue;
    layer.condition = Condition::sound;
    if (!layer.batt && !layer.labelled && layer.material->high) layer.rho = *layer.material->high;
    notes.assume("saving-counts-dry", built.survey->name, {{"material", layer.material->name}});
  }
  Transmittance u;
  for (const Piece& p : built.pieces)
    u += spot_u(built.framing, spot_paths(built.ends, built.framing, layers, p.column, built.under_deck)) * p.share;
  return inverse(u);
}

bool any_counts_nothing(const BuiltSection& built) {
  if (built.survey->insulation_r || built.survey->total_r) return false;  // a hatch by its R: no layers
  return std::any_of(built.layers.begin(), built.layers.end(), [](const BuiltLayer& l) { return l.counts_nothing(); });
}

bool adds(const TopUpResult& t) { return t.new_depth && t.new_depth->greatest > Length{}; }

}  // namespace

std::vector<Stage> stages_of(const Survey& survey, const TargetBand& band, const Tables& tables) {
  if (!survey.heating || !(survey.heating->hdd_f_day || survey.site.hdd65_f_day)) return {};
  const Resistance beyond = band.high + r_value(tables.money_default("step-beyond-r"));
  std::vector<Stage> stages;
  for (const Stage& stage :
       {Stage{"low", band.low}, Stage{"middle", (band.low + band.high) / 2.0}, Stage{"high", band.high}, Stage{"beyond", beyond}}) {
    if (!stages.empty() && reaches(stages.back().target.us(), stage.target.us())) stages.pop_back();
    stages.push_back(stage);
  }
  return stages;
}

namespace {

bool any_squeezed(const BuiltSection& built) {
  for (const Piece& p : built.pieces)
    for (std::size_t i = 0; i < p.column.count; ++i)
      if (built.layers[i].squeezed_at(p.column.thickness[i])) return true;
  return false;
}

/// What the stages of a floor are blown with.
struct StageWork {
  const Blow& blow;
  Basis basis;
};

void add_stages(SectionSaving& s, const BuiltSection& built, const SectionResult& result, const std::vector<Stage>& stages,
                const StageWork& work) {
  if (!built.floor) return;
  const BaseFloor& floor = *built.floor;
  const FloorR now = floor_r(floor, work.blow.fill, Length{});
  for (const Stage& stage : stages) {
    if (stage.step == "low" || stage.step == "high" || built.survey->target_r)
      s.stages.push_back(stage.step == "low" ? result.low : result.high);
    else
      s.stages.push_back(top_up(built, floor, now, work.blow, {stage.target, work.basis}, nullptr));
  }
}

}  // namespace

SectionSaving section_saving(const BuiltSection& built, const SectionResult& result, const std::vector<Stage>& stages, const Blow& blow,
                             Basis basis, Notes& notes) {
  SectionSaving s;
  s.before = result.existing.effective_r;
  if (any_counts_nothing(built)) s.before = high_r(built, notes);
  add_stages(s, built, result, stages, {blow, basis});
  if (any_squeezed(built) && !any_counts_nothing(built)) {
    Resistance least = std::min(result.low.effective_r, result.high.effective_r);  // nothing done there saves nothing
    for (const TopUpResult& t : s.stages) least = std::min(least, t.effective_r);
    const Resistance before = std::max(s.before, std::min(high_r(built, notes), least));
    if (!reaches(s.before.us(), before.us())) notes.assume("saving-counts-squeezed", result.name, {{"value", before}});
    s.before = before;
  }
  return s;
}

namespace {

// ---- Terms

/// Degree days of the survey's heating, else of its site at base 65 F; empty without either.
std::optional<DegreeDays> season_of(const Heating& heating, const Site& site, Notes& notes) {
  if (heating.hdd_f_day && heating.base_f) return DegreeDays{*heating.hdd_f_day, *heating.base_f, heating.days_below_base};
  if (heating.hdd_f_day || heating.base_f)
    throw Error(ErrorCode::missing, "heating", "degree days and their base are not both given", "give hdd_f_day and base_f together");
  if (!site.hdd65_f_day) {
    notes.assume("no-degree-days");
    return {};
  }
  notes.assume("degree-days-of-site", "", {{"value", *site.hdd65_f_day}});
  return DegreeDays{*site.hdd65_f_day, kSiteBase, heating.days_below_base};
}

Efficiency efficiency_of(const Heating& heating) {
  if (heating.efficiency.has_value() == heating.cop.has_value())
    throw Error(ErrorCode::missing, "heating", "not just one of efficiency and COP is given", "give the one or the other");
  return heating.cop ? Efficiency{*heating.cop, true} : Efficiency{*heating.efficiency, false};
}

const Fuel& fuel_of(const Heating& heating, const Tables& tables, Notes& notes) {
  const Fuel* fuel = tables.fuel(heating.fuel);
  if (!fuel) throw Error(ErrorCode::unknown_name, "heating", fmt::format("fuel '{}' is not known", heating.fuel), "see the table of fuels");
  notes.use_sources(fuel->sources);
  notes.assume("fuel-heat", "", {{"fuel", fuel->name}, {"unit", fuel->unit}, {"value", fuel->btu_per_unit}});
  return *fuel;
}

/// UA after the work, or that before it where both sums differ by rounding alone: else nothing done would pay back in 10^14 years.
Conductance after_work(Conductance before, Conductance after) {
  return reaches(before.us(), after.us()) && reaches(after.us(), before.us()) ? before : after;
}

/// Heat, fuel and money for a fall of UA: all that a year's saving follows from.
struct Year {
  DegreeDays season;
  std::optional<double> indoor_f;
  Efficiency efficiency;
  FuelTerms fuel;

  HeatingLoad load(Conductance before, Conductance after) const { return heating_load_saved(before, after, season, indoor_f); }
  YearSaved saved(Conductance before, Conductance after, double factor = 1.0) const {
    const Energy heat = load(before, after_work(before, after)).load * factor;
    return {heat, fuel_saved(heat, efficiency, fuel)};
  }
};

BillCheck bill_check(const HeatingBills& given, const Year& year, Conductance before, const Tables& tables, Notes& notes) {
  if (!given.base_load_units) notes.assume("bills-no-base-load");
  const double share = taken(tables, "ceiling-bill-share", notes);
  const Calibration c = calibrate(before, year.season, {given.units_per_year, given.base_load_units.value_or(0.0), share},
                                  delivered_per_unit(year.efficiency, *year.fuel.fuel));
  if (c.factor < 1.0) notes.caution("bills-too-low", "attic", {{"share", c.computed_share * 100.0}, {"most", share * 100.0}});
  return {c.factor, c.computed_share, share};
}

MoneyTerms money_terms(const MoneyWish& wish, const Tables& tables, Notes& notes) {
  MoneyTerms terms;
  terms.life_years = wish.life_years ? *wish.life_years : taken(tables, "life-years", notes);
  terms.discount_percent =
      wish.real_discount_rate_percent ? *wish.real_discount_rate_percent : taken(tables, "real-discount-rate-percent", notes);
  terms.price_rise_percent = wish.real_price_rise_percent.value_or(0.0);
  if (!wish.life_years) notes.assume("default-life", "", {{"value", terms.life_years}});
  if (!wish.real_discount_rate_percent) notes.assume("default-discount-rate", "", {{"value", terms.discount_percent}});
  if (!wish.real_price_rise_percent) notes.assume("constant-price");
  return terms;
}

// ---- Costs

/// The proposal with what belongs to the insulation measure only.
Proposal measure_of(const Proposal& proposal) {
  Proposal measure = proposal;
  measure.extras.clear();
  for (const Extra& extra : proposal.extras)
    if (extra.part.value_or(CostPart::insulation) == CostPart::insulation) measure.extras.push_back(extra);
  return measure;
}

/// By area or by cost, at most the cap and the cost; empty without terms or where the cost is not known.
std::optional<double> rebate_of(const MoneyWish& wish, Area blown, std::optional<double> cost) {
  if (!wish.rebate) return {};
  const RebateTerms& terms = *wish.rebate;
  if (!terms.per_ft2 && !cost) return {};
  double rebate = terms.per_ft2 ? *terms.per_ft2 * blown.us() : *cost * terms.percent.value_or(0.0) / 100.0;
  if (terms.cap) rebate = std::min(rebate, *terms.cap);
  if (cost) rebate = std::min(rebate, *cost);
  return rebate;
}

void add_cooling(TotalsResult& t, const Cooling& cooling, Conductance before, Conductance after, const Fuel& power, const Tables& tables,
                 Notes& notes) {
  const CoolingSeason season{cooling.degree_hours_f_h, cooling.hours, taken(tables, "attic-rise-low-f", notes),
                             taken(tables, "attic-rise-high-f", notes)};
  if (!cooling.cop) throw Error(ErrorCode::missing, "cooling", "no COP is given", "give the seasonal COP");
  const CoolingSaved saved = cooling_saved(before, after, season, *cooling.cop);
  const FuelTerms terms{&power, cooling.price_per_kwh, {}};
  const FuelSaved low = fuel_for(saved.low, terms), high = fuel_for(saved.high, terms);
  t.cooling = CoolingRange{low.units, high.units, low.money, high.money, saved.counts_outdoor, saved.counts_rise};
  if (saved.counts_rise) notes.assume("cooling-rise", "", {{"low", season.rise_low_f}, {"high", season.rise_high_f}});
  if (!saved.counts_outdoor || !saved.counts_rise) notes.assume(saved.counts_rise ? "cooling-no-degree-hours" : "cooling-no-hours");
  notes.caution("cooling-uncertain", "attic");
}

// ---- Steps

/// The whole attic at one stage.
struct AtticStage {
  Conductance ua;  ///< to outdoors
  Resistance effective_r;
  Area blown;
  double depth_area = 0.0;                                    ///< settled new depth x area [in ft2]
  std::optional<double> bags_exact = 0.0, price_exact = 0.0;  ///< price_exact of what is not bought by the bag
  bool reached = true;
};

AtticStage attic_at(const Evaluation& e, const std::vector<SectionSaving>& savings, std::size_t stage, const AtticAir& air) {
  AtticStage a;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    if (!s.heated_below) continue;
    for (const PatchResult& p : s.patches) a.ua += inverse(p.total_r) * p.area;
    const TopUpResult& top = savings[i].stages.empty() ? s.high : savings[i].stages[stage];  // a hatch is as planned
    a.ua += inverse(top.effective_r) * s.area;
    a.reached = a.reached && (is_cavity(s.kind) || !top.falls_short());  // a cavity is as planned at every step
    if (!adds(top)) continue;
    a.blown += s.area;
    a.depth_area += top.new_depth->mean.us() * s.area.us();
    a.price_exact = a.price_exact && top.price_exact ? std::optional(*a.price_exact + *top.price_exact) : std::nullopt;
    a.bags_exact = a.bags_exact && top.bags_exact ? std::optional(*a.bags_exact + *top.bags_exact) : std::nullopt;
  }
  a.effective_r = inverse(a.ua / e.attic.area);
  a.ua = *ua_to_outdoors(a.ua, air);
  return a;
}

/// A stage as a plan of the next-step table, and what a row of it shows beside the plan's worth.
struct PlannedStep {
  Stage stage;
  AtticStage attic;
  std::optional<double> fixed_cost, rebate;
};

StepPlan step_plan(PlannedStep& step, const Proposal& measure, const MoneyWish& wish, Method method) {
  const Cost cost = method == Method::blown ? blow_cost(measure, step.attic.bags_exact, step.attic.blown)
                                            : work_cost(measure, step.attic.price_exact, step.attic.blown);
  if (cost.total) step.fixed_cost = *cost.labour + cost.extras.value_or(0.0);
  if (step.fixed_cost && measure.tax && measure.tax->on == TaxOn::all) *step.fixed_cost *= 1.0 + measure.tax->percent / 100.0;
  step.rebate = rebate_of(wish, step.attic.blown, cost.total);
  StepPlan plan;
  plan.label = step.stage.step;
  plan.r = step.stage.target;
  plan.ua_after = step.attic.ua;
  plan.bags_exact = step.attic.bags_exact;
  plan.cost = cost.total;
  plan.fixed_cost = step.fixed_cost.value_or(0.0);
  plan.rebate = step.rebate.value_or(0.0);
  return plan;
}

StepResult step_result(const PlannedStep& step, const StepWorth& worth, double depth_area_before, Area blown, bool priced) {
  StepResult r;
  r.step = step.stage.step;
  r.target_r = step.stage.target;
  r.reached = step.attic.reached;
  r.effective_r = step.attic.effective_r;
  if (blown > Area{}) r.added = inches((step.attic.depth_area - depth_area_before) / blown.us());
  r.bags = worth.bags;
  r.cost = worth.cost;
  if (worth.cost) r.fixed_cost = worth.fixed_cost;
  if (step.rebate) r.rebate = worth.rebate;
  if (!priced) return r;
  r.annual_saving = worth.annual_saving;
  r.sir_so_far = worth.sir_of_all_so_far;
  if (!worth.worth) return r;
  r.payback = worth.worth->payback;
  r.sir = worth.worth->sir;
  return r;
}

/// Stages that lower the UA; none at all where the first of them would raise it (wet fill that comes out).
std::vector<PlannedStep> planned_steps(const Evaluation& e, const std::vector<Stage>& stages, const std::vector<SectionSaving>& savings,
                                       const AtticAir& air) {
  std::vector<PlannedStep> steps;
  Conductance before = e.heating->ua_before;
  for (std::size_t i = 0; i < stages.size(); ++i) {
    PlannedStep step{stages[i], attic_at(e, savings, i, air), {}, {}};
    if (steps.empty() && step.attic.ua > before && !reaches(before.us(), step.attic.ua.us())) return {};
    if (reaches(step.attic.ua.us(), before.us())) continue;  // met before, or nothing more fits
    before = step.attic.ua;
    steps.push_back(step);
  }
  return steps;
}

/// What all steps up to each one cost and save.
void add_sums(std::vector<StepResult>& steps) {
  std::optional<double> cost = 0.0, saving = 0.0;
  const auto add = [](std::optional<double>& sum, const std::optional<double>& one) {
    sum = sum && one ? std::optional(*sum + *one) : std::nullopt;
  };
  for (std::size_t i = 1; i < steps.size(); ++i) {
    add(cost, steps[i].cost);
    add(saving, steps[i].annual_saving);
    steps[i].cost_so_far = cost;
    steps[i].saving_so_far = saving;
  }
}

void add_steps(Evaluation& e, const MoneyWish& wish, const Proposal& measure, const Year& year, std::vector<PlannedStep> planned) {
  if (planned.empty()) return;
  const FuelSaved per_ua = year.saved(Conductance::from_us(1), Conductance{}).fuel;
  std::vector<StepPlan> plans;
  plans.reserve(planned.size());
  for (PlannedStep& step : planned) plans.push_back(step_plan(step, measure, wish, e.method));
  const bool priced = e.money.has_value();
  const MoneyTerms unused{1.0, 0.0, 0.0};  // without a price the worth is not shown
  const NextSteps next = next_steps(e.heating->ua_before, plans, per_ua.money.value_or(0.0), priced ? *e.money : unused);
  StepResult existing;
  existing.step = "existing";
  existing.effective_r = inverse(e.heating->ceiling_ua_before / e.attic.area);
  e.steps.push_back(existing);
  double depth_area = 0.0;
  Conductance ua = e.heating->ua_before;
  for (std::size_t i = 0; i < planned.size(); ++i) {
    const AtticStage& attic = planned[i].attic;
    e.steps.push_back(step_result(planned[i], next.steps[i], depth_area, planned.back().attic.blown, priced));
    e.steps.back().fuel_units = per_ua.units * (ua - attic.ua).us();
    depth_area = attic.depth_area;
    ua = attic.ua;
  }
  add_sums(e.steps);
  if (priced && next.last_worthwhile) e.last_worthwhile = e.steps[*next.last_worthwhile + 1].step;
}

// ---- Together

void add_year(Evaluation& e, TotalsResult& t, Conductance after, const Year& year) {
  const Conductance before = e.heating->ua_before;
  t.year = year.saved(before, after);
  if (e.heating->bills && e.heating->bills->factor < 1.0) t.year_by_bills = year.saved(before, after, e.heating->bills->factor);
  add_worth(t.measure, t.year->fuel.money, e.money);
  add_worth(t.package, t.year->fuel.money, e.money);
}

Conductance ua_before(const Evaluation& e, const std::vector<SectionSaving>& savings) {
  Conductance ua;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    if (!e.sections[i].heated_below) continue;
    ua += inverse(savings[i].before) * e.sections[i].area;
    for (const PatchResult& p : e.sections[i].patches) ua += inverse(p.total_r) * p.area;
  }
  return ua;
}

AtticAir attic_air(const Site& site) { return {!site.unvented(), site.roof_r, site.roof_area}; }

void say_terms(const Evaluation& e, const Heating& heating, const Proposal& proposal, const FuelSaved& fuel, Notes& notes) {
  if (e.heating->form == SavingForm::plain) notes.assume("plain-degree-days");
  if (!heating.price_per_unit) notes.assume("no-energy-price", "", {{"fuel", e.heating->fuel_name}});
  if (!fuel.co2_lb) notes.assume("co2-not-known", "", {{"fuel", e.heating->fuel_name}});
  const auto unsaid = [](const Extra& extra) { return !extra.part; };
  if (std::any_of(proposal.extras.begin(), proposal.extras.end(), unsaid)) notes.assume("extras-in-measure");
  notes.caution("savings-vary", "attic");
}

void add_heating(Evaluation& e, const Survey& survey, const Proposal& proposal, const Tables& tables, const std::vector<Stage>& stages,
                 const std::vector<SectionSaving>& savings, Notes& notes) {
  const Heating& heating = *survey.heating;
  const auto season = season_of(heating, survey.site, notes);
  if (!season || !(e.attic.area > Area{})) return;
  const Fuel& fuel = fuel_of(heating, tables, notes);
  const Year year{*season, heating.indoor_f, efficiency_of(heating), {&fuel, heating.price_per_unit, heating.co2_lb_per_unit}};
  const Conductance ceiling = ua_before(e, savings);
  const AtticAir air = attic_air(survey.site);
  const auto to_outdoors = ua_to_outdoors(ceiling, air);
  if (!to_outdoors) return notes.assume("unvented-no-roof");
  if (!air.vented) notes.assume("unvented-roof", "", {{"r", *air.roof_r}, {"area", *air.roof_area}});
  const Conductance before = *to_outdoors;
  const SavingForm form = year.load(before, before).form;
  e.heating =
      HeatingTerms{fuel.id, fuel.name,   fuel.unit, year.efficiency, heating.price_per_unit, *season, heating.indoor_f, form, before,
                   ceiling, !air.vented, {}};
  if (heating.bills) e.heating->bills = bill_check(*heating.bills, year, before, tables, notes);
  const MoneyWish wish = survey.money.value_or(MoneyWish{});
  if (heating.price_per_unit) e.money = money_terms(wish, tables, notes);
  add_year(e, e.low, *ua_to_outdoors(e.attic.low.ua, air), year);
  add_year(e, e.high, *ua_to_outdoors(e.attic.high.ua, air), year);
  say_terms(e, heating, proposal, e.high.year->fuel, notes);
  add_steps(e, wish, measure_of(proposal), year, planned_steps(e, stages, savings, air));
}

}  // namespace

void add_savings(Evaluation& e, const Survey& survey, const Proposal& proposal, const Tables& tables, const std::vector<Stage>& stages,
                 const std::vector<SectionSaving>& savings, Notes& notes) {
  const Proposal measure = measure_of(proposal);
  const MoneyWish wish = survey.money.value_or(MoneyWish{});
  for (TotalsResult* t : {&e.low, &e.high}) {
    t->measure.cost = work_cost(measure, t->material, t->blown_area).total;
    t->package.cost = t->cost;
    t->measure.rebate = t->package.rebate = rebate_of(wish, t->blown_area, t->measure.cost);
  }
  if (survey.heating) add_heating(e, survey, proposal, tables, stages, savings, notes);
  if (!survey.cooling || !(e.attic.area > Area{})) return;
  if (survey.site.unvented()) return notes.assume("unvented-no-cooling");
  const Fuel* power = tables.fuel("electricity");
  if (!power) throw Error(ErrorCode::unknown_name, "cooling", "the table of fuels has no electricity");
  notes.use_sources(power->sources);
  const Conductance before = e.heating ? e.heating->ua_before : e.attic.existing.ua;
  add_cooling(e.low, *survey.cooling, before, after_work(before, e.attic.low.ua), *power, tables, notes);
  add_cooling(e.high, *survey.cooling, before, after_work(before, e.attic.high.ua), *power, tables, notes);
}

}  // namespace overjoist::parts
