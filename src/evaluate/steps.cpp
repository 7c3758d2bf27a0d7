// SPDX-License-Identifier: MIT
#include <algorithm>
#include <vector>

#include "evaluate/attic_above.hpp"
#include "evaluate/bought.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/money.hpp"
#include "evaluate/saving_range.hpp"
#include "evaluate/year.hpp"

// The next-step table (method eq. 14a) of a whole attic: each row is the difference of two whole
// jobs, as bought.
namespace overjoist::parts {
namespace {

/// The whole attic at one stage.
struct AtticStage {
  Conductance ua;  ///< to outdoors, of what has a price
  Resistance effective_r;
  Area blown;
  double depth_area = 0.0;  ///< settled new depth x area [in ft2]
  Goods goods;              ///< as bought if the job stopped here
  bool reached = true;
};

AtticStage attic_at(const Evaluation& e, const SavingsWork& work, std::size_t stage) {
  AtticStage a;
  std::vector<const TopUp*> tops;
  const auto top_of = [&](std::size_t i) -> const TopUp& {
    const SectionSaving& saving = work.sections[i];
    return saving.stages.empty() ? e.planned.high.sections[i]
                                 : saving.stages[stage];  // a hatch is as planned
  };
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    if (!s.heated_below) continue;
    const TopUp& top = top_of(i);
    a.reached = a.reached &&
                (is_cavity(s.kind) || !top.falls_short());  // a cavity is as planned at every step
    if (!top.adds()) continue;
    tops.push_back(&top);
    a.blown += s.area;
    a.depth_area += top.new_depth->mean.us() * s.area.us();
  }
  a.goods = goods_of(tops, work.blow);
  const auto after = [&](std::size_t i) { return top_of(i).effective_r; };
  const auto paid = [&](std::size_t i) {
    return paid_r(e, e.sections[i], work.sections[i].before, after(i));
  };
  a.effective_r = inverse(ceiling_ua(e, after).sum() / e.attic.area);
  a.ua = *ua_to_outdoors(ceiling_ua(e, paid), e.heating->air);
  return a;
}

/// A stage as a plan of the next-step table, and what a row of it shows beside the plan's worth.
struct PlannedStep {
  Stage stage;
  AtticStage attic;
  std::optional<double> fixed_cost, rebate;
};

StepPlan step_plan(PlannedStep& step, const Proposal& measure, const MoneyWish& wish) {
  const Cost cost = work_cost(measure, step.attic.goods.price, step.attic.blown);
  if (cost.total) step.fixed_cost = *cost.labour + cost.extras.value_or(0.0);
  if (step.fixed_cost && measure.tax && measure.tax->on == TaxOn::all)
    *step.fixed_cost *= 1.0 + measure.tax->percent / 100.0;
  step.rebate = rebate_of(wish, step.attic.blown, cost.total);
  StepPlan plan;
  plan.label = step.stage.step;
  plan.r = step.stage.target;
  plan.ua_after = step.attic.ua;
  plan.bags = step.attic.goods.bags;
  plan.cost = cost.total;
  plan.fixed_cost = step.fixed_cost.value_or(0.0);
  plan.rebate = step.rebate.value_or(0.0);
  return plan;
}

StepResult step_result(const PlannedStep& step, const StepWorth& worth, double depth_area_before,
                       Area blown, bool priced) {
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
  r.earns_cost = worth.earns_cost;
  if (!(*worth.cost > 0)) return r;  // there is nothing that it could pay back
  r.payback = worth.worth->payback;
  r.sir = worth.worth->sir;
  return r;
}

/// What each step saves at both ends: the first starts from the attic as found, the others from
/// what the step before leaves, which is as sure as the plan.
void add_ranges(Evaluation& e, const SavingsWork& work, double per_ua) {
  const SavedUa whole = saved_ua(e, work, e.planned.high, true);
  if (!(whole.after.ua > 0)) return;
  const double better = whole.after.down / whole.after.ua, worse = whole.after.up / whole.after.ua;
  double ua = whole.found.ua;
  for (std::size_t i = 1; i < e.steps.size(); ++i) {
    StepResult& step = e.steps[i];
    if (!step.annual_saving) continue;
    const double saved = *step.annual_saving, after = ua - saved / (per_ua * whole.share());
    Ends<double> ends{saved * (1.0 - better), saved * (1.0 + worse)};
    if (i == 1) {
      SavedUa first = whole;
      first.after = {after, after * worse, after * better};
      const Ends<double> all = saved_ends(first);
      ends = {std::min(all.low * per_ua, saved), std::max(all.high * per_ua, saved)};
    }
    step.range = worth_range(ends, step.cost, *e.money);
    ua = after;
    if (step.cost && *step.cost > 0 && reaches(*step.range->present_low, *step.cost))
      e.last_worthwhile_low = step.step;
  }
}

/// Stages that lower the UA; one that would raise it (sound or wet fill that comes out) is no step.
std::vector<PlannedStep> planned_steps(const Evaluation& e, const SavingsWork& work) {
  std::vector<PlannedStep> steps;
  Conductance before = e.heating->ua_before;
  for (std::size_t i = 0; i < work.stages.size(); ++i) {
    PlannedStep step{work.stages[i], attic_at(e, work, i), {}, {}};
    if (reaches(step.attic.ua.us(), before.us())) continue;  // met before, worse, or no room
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

/// The last step that earns its cost, and whether none does.
void add_verdict(Evaluation& e, const NextSteps& next) {
  const auto first = e.steps.begin() + 1;
  const bool known = std::all_of(first, e.steps.end(),
                                 [](const StepResult& s) { return s.earns_cost.has_value(); });
  if (next.last_worthwhile) e.last_worthwhile = e.steps[*next.last_worthwhile + 1].step;
  e.never_pays = known && !next.last_worthwhile &&
                 std::any_of(first, e.steps.end(), [](const StepResult& s) { return *s.cost > 0; });
}

/// Without any step: an end that costs something, and none that is worth its cost.
bool no_end_pays(const Evaluation& e) {
  bool any_cost = false;
  for (const Planned* planned : each(e.planned)) {
    const WorthLine& line = planned->totals.measure;
    if (!line.cost) return false;
    any_cost = any_cost || *line.cost > 0;
    if (*line.cost > 0 && line.sir && reaches(*line.sir, 1.0)) return false;
  }
  return any_cost;
}

}  // namespace

void add_steps(Evaluation& e, const MoneyWish& wish, const SavingsWork& work, const Year& year) {
  std::vector<PlannedStep> planned = planned_steps(e, work);
  if (planned.empty()) {
    e.never_pays = e.money && no_end_pays(e);
    return;
  }
  const double factor = e.heating->bills ? e.heating->bills->factor : 1.0;
  const FuelSaved per_ua = year.saved(Conductance::from_us(1), Conductance{}, factor).fuel;
  const Proposal measure = measure_of(work.proposal);
  std::vector<StepPlan> plans;
  plans.reserve(planned.size());
  for (PlannedStep& step : planned) plans.push_back(step_plan(step, measure, wish));
  const bool priced = e.money.has_value();
  const MoneyTerms unused{1.0, 0.0, 0.0};  // without a price the worth is not shown
  const NextSteps next = next_steps(e.heating->ua_before, plans, per_ua.money.value_or(0.0),
                                    priced ? *e.money : unused);
  StepResult existing;
  existing.step = "existing";
  existing.effective_r = inverse(e.heating->ceiling_ua_before / e.attic.area);
  e.steps.push_back(existing);
  double depth_area = 0.0;
  Conductance ua = e.heating->ua_before;
  for (std::size_t i = 0; i < planned.size(); ++i) {
    const AtticStage& attic = planned[i].attic;
    e.steps.push_back(
        step_result(planned[i], next.steps[i], depth_area, planned.back().attic.blown, priced));
    e.steps.back().fuel_units = per_ua.units * (ua - attic.ua).us();
    depth_area = attic.depth_area;
    ua = attic.ua;
  }
  add_sums(e.steps);
  if (!priced) return;
  add_verdict(e, next);
  if (per_ua.money && *per_ua.money > 0) add_ranges(e, work, *per_ua.money / factor);
}

}  // namespace overjoist::parts
