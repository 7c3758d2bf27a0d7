// SPDX-License-Identifier: MIT
#include "overjoist/money.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "overjoist/diagnostics.hpp"

namespace overjoist {
namespace {

std::optional<double> labour_cost(const Labour& labour, Area blown_area, bool work_to_do) {
  if (labour.price_per_ft2) return *labour.price_per_ft2 * blown_area.us();
  if (labour.hours && labour.price_per_hour)
    return work_to_do ? *labour.hours * *labour.price_per_hour : 0.0;
  return {};
}

/// Extras that are to be paid: all of them, but those of the insulation itself only where fill is
/// added or a section that they cover gets work.
double extras_cost(const std::vector<Extra>& extras, bool work_to_do) {
  double sum = 0.0;
  for (const Extra& extra : extras)
    if (work_to_do || extra.due ||
        extra.part.value_or(CostPart::insulation) != CostPart::insulation)
      sum += extra.price;
  return sum;
}

}  // namespace

Cost blow_cost(const Proposal& proposal, std::optional<double> bags, Area blown_area) {
  return work_cost(proposal,
                   proposal.price_per_bag && bags ? std::optional(*proposal.price_per_bag * *bags)
                                                  : std::nullopt,
                   blown_area);
}

Cost work_cost(const Proposal& proposal, std::optional<double> material, Area blown_area) {
  Cost cost;
  const bool work_to_do = blown_area > Area{};
  cost.material = material;
  if (proposal.labour) cost.labour = labour_cost(*proposal.labour, blown_area, work_to_do);
  if (!proposal.extras.empty()) cost.extras = extras_cost(proposal.extras, work_to_do);
  if (!cost.material || !cost.labour) return cost;
  cost.total = *cost.material + *cost.labour + cost.extras.value_or(0.0);
  if (!proposal.tax) return cost;
  cost.tax = (proposal.tax->on == TaxOn::goods ? *cost.material : *cost.total) *
             proposal.tax->percent / 100.0;
  *cost.total += *cost.tax;
  return cost;
}

namespace {

void check_number(const char* what, double value) {
  if (!std::isfinite(value))
    throw Error(ErrorCode::out_of_range, "money",
                fmt::format("{} of {:g} is not a number", what, value));
}

/// Growth factor of a year, from percent.
double growth(const char* what, double percent) {
  if (!(percent > -100.0 && std::isfinite(percent)))
    throw Error(ErrorCode::out_of_range, "money",
                fmt::format("{} of {:g} % is not above -100 %", what, percent),
                "give a real rate in percent a year, such as 3");
  return 1.0 + percent / 100.0;
}

// S (1+e)^t / (1+d)^t = S / (1+d')^t with 1 + d' = (1+d)/(1+e): a rising price is a lower rate.
// Exactly d where e is 0.
double rate_percent(const MoneyTerms& terms) {
  const double up = growth("price rise", terms.price_rise_percent),
               down = growth("discount rate", terms.discount_percent);
  return terms.price_rise_percent == 0 ? terms.discount_percent : (down / up - 1.0) * 100.0;
}

}  // namespace

double uniform_present_value(double discount_percent, double years) {
  growth("discount rate", discount_percent);
  if (!(years > 0 && std::isfinite(years)))
    throw Error(ErrorCode::out_of_range, "money",
                fmt::format("life of {:g} years is not above 0", years), "give the life in years");
  const double d = discount_percent / 100.0;
  return d == 0 ? years : -std::expm1(-years * std::log1p(d)) / d;  // exact also near d = 0
}

double present_value(double annual_saving, const MoneyTerms& terms) {
  check_number("saving", annual_saving);
  return annual_saving * uniform_present_value(rate_percent(terms), terms.life_years);
}

std::optional<double> savings_to_investment(double annual_saving, double cost,
                                            const MoneyTerms& terms) {
  check_number("cost", cost);
  const double value = present_value(annual_saving, terms);
  if (!(cost > 0)) return {};
  return value / cost;
}

std::optional<double> simple_payback(double cost, double annual_saving) {
  check_number("saving", annual_saving);
  check_number("cost", cost);
  if (!(cost > 0))
    return annual_saving < 0 ? std::nullopt
                             : std::optional(0.0);  // a loss is bought back by no price
  if (!(annual_saving > 0)) return {};
  return cost / annual_saving;
}

// I = S (1 - (1+d)^-n)/d solved for n; the limit for d = 0 is I/S.
std::optional<double> discounted_payback(double cost, double annual_saving,
                                         const MoneyTerms& terms) {
  const double d = rate_percent(terms) / 100.0;
  const std::optional<double> simple = simple_payback(cost, annual_saving);
  if (!simple || d == 0) return simple;
  if (!(*simple * d < 1)) return {};
  return -std::log1p(-*simple * d) / std::log1p(d);
}

Worth worth_of(double annual_saving, double cost, double rebate, const MoneyTerms& terms) {
  check_number("rebate", rebate);
  Worth w;
  w.present_value = present_value(annual_saving, terms);
  w.net_saving = w.present_value - cost;
  w.sir = savings_to_investment(annual_saving, cost, terms);
  w.payback = simple_payback(cost, annual_saving);
  w.payback_after = simple_payback(std::max(0.0, cost - rebate), annual_saving);
  w.payback_discounted = discounted_payback(cost, annual_saving, terms);
  return w;
}

namespace {

/// The step before the first one: the attic as it is, for nothing.
StepPlan nothing_done(Conductance ua_before) {
  StepPlan none;
  none.ua_after = ua_before;
  none.bags = none.cost = 0.0;
  return none;
}

void check_plan(const StepPlan& plan, const StepPlan& before) {
  const auto refuse = [&](const char* what, const char* hint) {
    throw Error(ErrorCode::contradiction, "steps", fmt::format("step {}: {}", plan.label, what),
                hint);
  };
  check_number("UA", plan.ua_after.us());
  check_number("cost", plan.cost.value_or(0.0));
  check_number("fixed cost", plan.fixed_cost);
  check_number("rebate", plan.rebate);
  if (!(plan.r > before.r)) refuse("R does not rise", "give the steps in rising R, each once");
  if (plan.ua_after > before.ua_after)
    refuse("UA rises with R", "each step must leave the attic no worse than the one before");
  if (plan.cost && plan.fixed_cost > *plan.cost)
    refuse("the fixed cost is above the whole cost", "the cost of a step holds its fixed cost");
}

std::optional<double> difference(std::optional<double> a, std::optional<double> b) {
  if (!a || !b) return {};
  return *a - *b;
}

StepWorth added_by(const StepPlan& plan, const StepPlan& before, double saving_per_ua,
                   const MoneyTerms& terms) {
  StepWorth step;
  step.label = plan.label;
  step.r = plan.r;
  step.bags = difference(plan.bags, before.bags);
  step.cost = difference(plan.cost, before.cost);
  const bool same = plan.cost && before.cost && reaches(*plan.cost, *before.cost) &&
                    reaches(*before.cost, *plan.cost);
  if (same) step.cost = 0.0;  // apart by rounding alone
  step.fixed_cost = plan.fixed_cost - before.fixed_cost;
  step.rebate = plan.rebate - before.rebate;
  step.annual_saving = saving_per_ua * (before.ua_after - plan.ua_after).us();
  if (!step.cost) return step;
  step.worth = worth_of(step.annual_saving, *step.cost, step.rebate, terms);
  const bool own_cost = *step.cost > 0;  // else there is nothing to earn
  step.earns_cost = own_cost && reaches(step.worth->present_value, *step.cost);
  return step;
}

}  // namespace

NextSteps next_steps(Conductance ua_before, const std::vector<StepPlan>& plans,
                     double saving_per_ua, const MoneyTerms& terms) {
  check_number("UA", ua_before.us());
  check_number("saving", saving_per_ua);
  const StepPlan none = nothing_done(ua_before);
  const StepPlan* before = &none;
  NextSteps result;
  for (const StepPlan& plan : plans) {
    check_plan(plan, *before);
    StepWorth step = added_by(plan, *before, saving_per_ua, terms);
    if (plan.cost)
      step.sir_of_all_so_far = savings_to_investment(
          saving_per_ua * (ua_before - plan.ua_after).us(), *plan.cost, terms);
    if (step.earns_cost) result.last_worthwhile = result.steps.size();
    result.steps.push_back(std::move(step));
    before = &plan;
  }
  return result;
}

}  // namespace overjoist
