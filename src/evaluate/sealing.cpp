// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/sealing.hpp"

// What sealing saves in a year (method eq. 14a, the package): only as the user's own figure or by
// a blower door before and after.
namespace overjoist::parts {
namespace {

/// Heat of the tested house before less that after, as money; empty where heat or price is not
/// known, or where the test tells of no fall.
std::optional<double> tested_saving(const Evaluation& e, const Tables& tables) {
  const std::optional<HouseAir>& house = e.plan.house;
  if (!house || !house->before || !house->after || !(*house->after < *house->before)) return {};
  const Fuel* fuel = tables.fuel(e.heating->fuel);
  return fuel_saved(*house->before - *house->after, e.heating->efficiency,
                    {fuel, e.heating->price_per_unit, {}})
      .money;
}

std::optional<SealingSaving> sealing_saving(const Evaluation& e, const MoneyWish& wish,
                                            const Tables& tables) {
  if (!e.money) return {};
  if (wish.sealing_saving_per_year) return SealingSaving{*wish.sealing_saving_per_year, false};
  const auto tested = tested_saving(e, tables);
  return tested ? std::optional(SealingSaving{*tested, true}) : std::nullopt;
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
  if (wish.accept_sealing_upper_bound.value_or(false))
    job.notes.caution("sealing-bound-unused", "attic");
  const bool tested = e.plan.house && e.plan.house->ela_after &&
                      *e.plan.house->ela_after < e.plan.house->ela_before;
  const bool wanted = wish.sealing_saving_per_year || tested;
  e.sealing_saving = sealing_saving(e, wish, job.tables);
  if (!e.sealing_saving) {
    if (wanted) job.notes.assume("sealing-saving-unusable");
    if (e.heating) job.notes.assume("sealing-not-counted");
    return;
  }
  job.notes.assume(e.sealing_saving->tested ? "sealing-saving-tested" : "sealing-saving-given");
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
