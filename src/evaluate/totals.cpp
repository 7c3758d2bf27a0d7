// SPDX-License-Identifier: MIT
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "evaluate/bought.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/totals.hpp"

// The attic and the job as sums over the sections (model 8).
namespace overjoist::parts {
namespace {

/// UA over heated sections and patches; a section over an unheated space saves nothing.
/// @param r  effective R of the section of an index
template <class F>
AtticState attic_state(const AtticResult& attic, const std::vector<SectionResult>& sections, F r) {
  AtticState state;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    if (!sections[i].heated_below) continue;
    state.ua += inverse(r(i)) * sections[i].area;
    for (const PatchResult& p : sections[i].patches) state.ua += inverse(p.total_r) * p.area;
  }
  if (state.ua > Conductance{}) state.effective_r = inverse(state.ua / attic.area);
  return state;
}

}  // namespace

AtticResult attic_found(const std::vector<SectionResult>& sections) {
  AtticResult a;
  for (const SectionResult& s : sections) {
    if (!s.heated_below) continue;
    a.area += s.area;
    for (const PatchResult& p : s.patches) a.area += p.area;
  }
  a.existing =
      attic_state(a, sections, [&](std::size_t i) { return sections[i].existing.effective_r; });
  return a;
}

AtticState attic_after(const Evaluation& e, const std::vector<TopUp>& planned) {
  return attic_state(e.attic, e.sections, [&](std::size_t i) { return planned[i].effective_r; });
}

Totals job_totals(const Evaluation& e, const std::vector<TopUp>& planned, const Blow& blow,
                  const Proposal& proposal) {
  Totals t;
  if (blow.method == Method::blown) t.bag_net = blow.bag_net;
  std::vector<const TopUp*> tops;
  std::optional<Mass> mass = Mass{};
  for (std::size_t i = 0; i < planned.size(); ++i) {
    const TopUp& top = planned[i];
    if (!top.adds()) continue;
    tops.push_back(&top);
    t.blown_area += e.sections[i].area;
    mass = mass && top.bags_exact && top.added_mass ? std::optional(*mass + *top.added_mass)
                                                    : std::nullopt;
  }
  Goods goods = goods_of(tops, blow);
  if (mass) {
    t.bags = goods.bags;
    t.added_mass = mass;
  }
  t.board_ft = goods.board_ft;
  t.packages = std::move(goods.packages);
  const Cost cost = work_cost(proposal, goods.price, t.blown_area);
  t.material = cost.material;
  t.labour = cost.labour;
  t.extras = cost.extras;
  t.tax = cost.tax;
  t.cost = cost.total;
  return t;
}

void tax_note(const Proposal& proposal, const Totals& t, Notes& notes) {
  if (!proposal.tax && (t.material || t.labour || t.extras)) notes.assume("no-tax");
}

}  // namespace overjoist::parts
