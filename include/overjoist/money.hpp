// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "overjoist/survey.hpp"

/// What a blow costs and what its saving is worth (model 14). A price that the user did not give is
/// 'not priced', never 0. Amounts are in the survey's currency, at constant (real) prices. Pure and
/// thread safe.
namespace overjoist {

struct Cost {
  std::optional<double> material, labour, extras, tax,
      total;  ///< in the survey's currency; empty: not priced
};

/// @param bags  whole bags after waste; empty if not known  @param blown_area  gross area that gets
/// new fill `total` is given only where material and labour are both priced (labour 0 counts as
/// priced); no extras means none. A tax is part of the total.
Cost blow_cost(const Proposal& proposal, std::optional<double> bags, Area blown_area);
/// The same with a price of the material that is known already.
Cost work_cost(const Proposal& proposal, std::optional<double> material, Area blown_area);

/// How long a saving lasts and what later money counts. Defaults are rows of `data/money.json`; to
/// be printed with the result.
struct MoneyTerms {
  double life_years = 0.0;        ///< > 0
  double discount_percent = 0.0;  ///< real rate of a year [%], > -100
  double price_rise_percent =
      0.0;  ///< yearly real rise of the fuel's price [%], > -100; 0 unless given
};

/// Uniform present value of 1 a year at each year's end [years], method eq. 14: `(1 - (1+d)^-n)/d`,
/// n where d is 0.
/// @param discount_percent  real, > -100  @param years  > 0, need not be whole  @throws
/// Error{out_of_range}
double uniform_present_value(double discount_percent, double years);

/// Present value of an annual saving over the life; a rising price is a lower rate, `(1+d)/(1+e) -
/// 1`.
/// @throws Error{out_of_range} for terms outside their ranges or a saving that is no number, as all
/// functions below
double present_value(double annual_saving, const MoneyTerms& terms);

/// Savings-to-investment ratio: present value / cost; below 1 uneconomic. Safety repairs belong in
/// no measure's cost.
/// @param cost  before any rebate  @returns empty where the cost is not above 0
std::optional<double> savings_to_investment(double annual_saving, double cost,
                                            const MoneyTerms& terms);

/// Years until the undiscounted savings equal the cost; a rough screen. 0 where the cost is not
/// above 0 and nothing is lost.
/// @returns empty where nothing is saved, or more is lost: never
std::optional<double> simple_payback(double cost, double annual_saving);

/// Years until the discounted savings equal the cost, `n = -ln(1 - I d/S)/ln(1+d)`; may be longer
/// than the life.
/// @returns empty for never: nothing saved, or I d/S >= 1
std::optional<double> discounted_payback(double cost, double annual_saving,
                                         const MoneyTerms& terms);

/// What one measure, or the whole package, is worth. The caller sums its costs and savings: model
/// 14 shows both lines.
struct Worth {
  double present_value = 0.0;
  double net_saving = 0.0;              ///< present value less cost, before rebate
  std::optional<double> sir;            ///< before rebate
  std::optional<double> payback;        ///< simple, before rebate; empty: never
  std::optional<double> payback_after;  ///< simple, after rebate
  std::optional<double> payback_discounted;
};
/// @param cost  finite  @param rebate  taken off the cost, not below 0, in `payback_after` alone
Worth worth_of(double annual_saving, double cost, double rebate, const MoneyTerms& terms);

/// The whole job if it stopped at one R: totals, not additions.
struct StepPlan {
  std::string label;           ///< "R-38"
  Resistance r;                ///< rises from step to step
  Conductance ua_after;        ///< to outdoors
  std::optional<double> bags;  ///< as bought: rounded up over the whole job
  std::optional<double>
      cost;  ///< with `fixed_cost` in it: the cost of the job that stops here; empty: not priced
  double fixed_cost = 0.0;  ///< what comes with any blow: setting up, dams, baffles, markers
  double rebate = 0.0;      ///< for the job if it stopped here
};

/// What one step adds to the step before it; the columns add up to the totals of the last plan.
struct StepWorth {
  std::string label;
  Resistance r;
  std::optional<double> bags, cost;  ///< empty: not known here or in the step before
  double fixed_cost =
      0.0;              ///< part of `cost`: all of it in the first step, then only what it grows by
  double rebate = 0.0;  ///< its own column, in no SIR
  double annual_saving = 0.0;  ///< of this step alone
  bool earns_cost = false;     ///< it has a cost of its own, above 0, and a SIR of 1 or more
  std::optional<Worth> worth;  ///< of this step alone; empty: not priced
  std::optional<double> sir_of_all_so_far;  ///< the average that can hide a poor last inch
};
struct NextSteps {
  std::vector<StepWorth> steps;                ///< as given, in rising R
  std::optional<std::size_t> last_worthwhile;  ///< last step that earns its cost; empty: none
};

/// Each next step of R by itself (model 14). Savings are linear in UA: a step saves `saving_per_ua
/// (UA_before it - UA_after it)`.
/// @param ua_before  existing attic  @param plans  in rising R, UA not rising
/// @param saving_per_ua  money per year for 1 Btu/(h·°F): savings.hpp with UA from 1 to 0, at the
/// user's price
/// @throws Error{contradiction} naming the step where R does not rise, UA rises, or fixed cost is
/// above cost
NextSteps next_steps(Conductance ua_before, const std::vector<StepPlan>& plans,
                     double saving_per_ua, const MoneyTerms& terms);

}  // namespace overjoist
