// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/sealing.hpp"

// What sealing saves in a year (method eq. 14a, the package): only where the user gives it or
// accepts the upper bound.
namespace overjoist::parts {
namespace {

/// Heat of the leaks as found less that of the same leaks sealed, as money; empty where heat or
/// price is not known.
std::optional<double> upper_bound(const Evaluation& e, const Tables& tables) {
  const LeakHeat& leak = e.plan.leak;
  if (!leak.typical || !leak.tight) return {};
  const Fuel* fuel = tables.fuel(e.heating->fuel);
  return fuel_saved(*leak.typical - *leak.tight, e.heating->efficiency,
                    {fuel, e.heating->price_per_unit, {}})
      .money;
}

std::optional<SealingSaving> sealing_saving(const Evaluation& e, const MoneyWish& wish,
                                            const Tables& tables) {
  if (!e.money) return {};
  if (wish.sealing_saving_per_year) return SealingSaving{*wish.sealing_saving_per_year, false};
  if (!wish.accept_sealing_upper_bound.value_or(false)) return {};
  const auto bound = upper_bound(e, tables);
  return bound ? std::optional(SealingSaving{*bound, true}) : std::nullopt;
}

}  // namespace

void add_worth(WorthLine& line, std::optional<double> saving,
               const std::optional<MoneyTerms>& terms) {
  line.annual_saving = saving;
  if (!saving || !terms) return;
  line.present_value = present_value(*saving, *terms);
  if (!line.cost) return;
  const Worth worth = worth_of(*saving, *line.cost, line.rebate.value_or(0.0), *terms);
  line.sir = worth.sir;
  line.payback = worth.payback;
  line.payback_discounted = worth.payback_discounted;
  if (line.rebate) line.payback_after_rebate = worth.payback_after;
}

void add_sealing_saving(Evaluation& e, const Job& job) {
  const MoneyWish wish = job.survey.money.value_or(MoneyWish{});
  const bool wanted =
      wish.sealing_saving_per_year || wish.accept_sealing_upper_bound.value_or(false);
  e.sealing_saving = sealing_saving(e, wish, job.tables);
  if (!e.sealing_saving) {
    if (wanted) job.notes.assume("sealing-saving-unusable");
    if (e.heating) job.notes.assume("sealing-not-counted");
    return;
  }
  job.notes.assume(e.sealing_saving->upper_bound ? "sealing-upper-bound" : "sealing-saving-given");
  const std::vector<Extra> extras =
      job.survey.proposal ? job.survey.proposal->extras : std::vector<Extra>{};
  if (std::none_of(extras.begin(), extras.end(),
                   [](const Extra& x) { return x.part == CostPart::sealing; }))
    job.notes.assume("sealing-not-priced");
  for (Planned* planned : each(e.planned)) {
    WorthLine& package = planned->totals.package;
    if (package.annual_saving)
      add_worth(package, *package.annual_saving + e.sealing_saving->per_year, e.money);
  }
}

}  // namespace overjoist::parts
