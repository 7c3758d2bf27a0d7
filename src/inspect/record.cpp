// SPDX-License-Identifier: MIT
#include "overjoist/record.hpp"

namespace overjoist {

std::optional<Proposal> used_proposal(const Survey& survey, const Record& record) {
  const bool named = record.product || !record.material.empty();
  if (!survey.proposal && !named && !record.bag_net && !record.waste_percent) return {};
  Proposal used = survey.proposal.value_or(Proposal{});
  if (!survey.proposal && !named) used.material = "cellulose-loose";  // as `evaluate` takes it
  if (record.product) {
    used.product = record.product;
    used.batts.clear();
  } else if (!record.material.empty() && record.material != used.material) {
    used.product.reset();
    used.batts.clear();
  }
  if (!record.material.empty()) used.material = record.material;
  if (record.bag_net) used.bag_net = record.bag_net;
  if (record.waste_percent) used.waste_percent = record.waste_percent;
  return used;
}

}  // namespace overjoist
