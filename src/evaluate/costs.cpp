// SPDX-License-Identifier: MIT
#include <algorithm>
#include <utility>

#include "evaluate/costs.hpp"
#include "evaluate/money.hpp"
#include "evaluate/year.hpp"

// Costs of the measure and the package, and whose work has a price at all.
namespace overjoist::parts {

Proposal measure_of(const Proposal& proposal) {
  Proposal measure = proposal;
  measure.extras.clear();
  for (const Extra& extra : proposal.extras)
    if (extra.part.value_or(CostPart::insulation) == CostPart::insulation)
      measure.extras.push_back(extra);
  return measure;
}

std::optional<double> rebate_of(const MoneyWish& wish, Area blown, std::optional<double> cost) {
  if (!wish.rebate) return {};
  const RebateTerms& terms = *wish.rebate;
  if (!terms.per_ft2 && !cost) return {};
  double rebate =
      terms.per_ft2 ? *terms.per_ft2 * blown.us() : *cost * terms.percent.value_or(0.0) / 100.0;
  if (terms.cap) rebate = std::min(rebate, *terms.cap);
  if (cost) rebate = std::min(rebate, *cost);
  return rebate;
}

bool covered(const Proposal& proposal, std::string_view section) {
  return std::any_of(proposal.extras.begin(), proposal.extras.end(), [&](const Extra& extra) {
    return std::find(extra.covers.begin(), extra.covers.end(), section) != extra.covers.end();
  });
}

std::vector<std::string> unpriced_work(Proposal& proposal, const Evaluation& e) {
  std::vector<std::string> names;
  for (const auto& [s, low, high] : e.with_ends()) {
    if (!s.heated_below || is_floor(s.kind))
      continue;  // what lies on a floor is bought by the bag, package or board foot
    const double found = s.existing.effective_r.us();
    if (reaches(found, low.effective_r.us()) && reaches(found, high.effective_r.us())) continue;
    if (!covered(proposal, s.name)) names.push_back(s.name);
    for (Extra& extra : proposal.extras)
      extra.due = extra.due ||
                  std::find(extra.covers.begin(), extra.covers.end(), s.name) != extra.covers.end();
  }
  std::sort(names.begin(), names.end());  // the same for sections in any order
  return names;
}

bool is_unpriced(const Evaluation& e, const SectionResult& section) {
  return std::find(e.unpriced.begin(), e.unpriced.end(), section.name) != e.unpriced.end();
}

Resistance paid_r(const Evaluation& e, const SectionResult& section, Resistance before,
                  Resistance after) {
  return is_unpriced(e, section) ? std::min(before, after)
                                 : after;  // what it lost counts: against us
}

void add_costs(Evaluation& e, const SavingsWork& work, const MoneyWish& wish) {
  const Proposal measure = measure_of(work.proposal);
  // Nothing is bought for work that has no price: its cost is not 0 but not known.
  const auto known = [&](std::optional<double> cost) {
    return e.unpriced.empty() || !cost || *cost > 0 ? cost : std::nullopt;
  };
  for (Planned* planned : each(e.planned)) {
    Totals* const t = &planned->totals;
    t->measure.cost = known(work_cost(measure, t->material, t->blown_area).total);
    t->cost = t->package.cost = known(t->cost);
    t->measure.rebate = t->package.rebate = rebate_of(wish, t->blown_area, t->measure.cost);
  }
}

}  // namespace overjoist::parts
