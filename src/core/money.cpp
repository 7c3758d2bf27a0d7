// SPDX-License-Identifier: MIT
#include "overjoist/money.hpp"

namespace overjoist {
namespace {

std::optional<double> labour_cost(const Labour& labour, Area blown_area, bool work_to_do) {
  if (labour.price_per_ft2) return *labour.price_per_ft2 * blown_area.us();
  if (labour.hours && labour.price_per_hour) return work_to_do ? *labour.hours * *labour.price_per_hour : 0.0;
  return {};
}

}  // namespace

Cost blow_cost(const Proposal& proposal, std::optional<double> bags, Area blown_area) {
  Cost cost;
  const bool work_to_do = blown_area > Area{};
  if (proposal.price_per_bag && bags) cost.material = *proposal.price_per_bag * *bags;
  if (proposal.labour) cost.labour = labour_cost(*proposal.labour, blown_area, work_to_do);
  if (!proposal.extras.empty()) {
    double sum = 0.0;
    for (const Extra& extra : proposal.extras) sum += extra.price;
    cost.extras = work_to_do ? sum : 0.0;
  }
  if (cost.material && cost.labour) cost.total = *cost.material + *cost.labour + cost.extras.value_or(0.0);
  return cost;
}

}  // namespace overjoist
