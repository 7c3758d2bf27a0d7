// SPDX-License-Identifier: MIT
#include <algorithm>

#include "inspect/parts.hpp"
#include "overjoist/clearing.hpp"

// What was counted, ticked off and cleared, and the receipt (method eq. 19b).
namespace overjoist::parts {
namespace {

CountState state_of(const std::optional<int>& planned, const std::optional<int>& found) {
  if (!planned) return CountState::plan_unknown;
  if (found) return *found >= *planned ? CountState::met : CountState::short_of;
  return *planned == 0 ? CountState::none_needed : CountState::not_counted;
}

}  // namespace

std::vector<CountCheck> check_counts(const InspectWork& w) {
  const PlanCounts plan = w.job.counts;
  const RecordCounts& found = w.record.counts;
  std::vector<CountCheck> list = {{"markers", plan.markers, found.markers, {}},
                                  {"baffles", plan.baffles, found.baffles, {}},
                                  {"dams", plan.dams, found.dams, {}},
                                  {"covers", plan.light_covers, found.covers, {}},
                                  {"flags", plan.flags, found.flags, {}}};
  for (CountCheck& c : list) c.state = state_of(c.planned, c.found);
  return list;
}

std::vector<SealCheck> check_sealing(const InspectWork& w) {
  std::vector<SealCheck> list;
  std::vector<bool> used(w.record.sealed.size(), false);
  for (const SealingItem& item : w.plan.plan.sealing.items) {
    SealCheck check{item.kind, item.name, item.where, true, false};
    // A tick with a place is that item's; one without a place stands for one item of its kind that
    // has none of its own.
    for (const bool placed : {true, false})
      for (std::size_t i = 0; i < w.record.sealed.size() && !check.ticked; ++i) {
        const SealTick& tick = w.record.sealed[i];
        if (used[i] || tick.kind != item.kind || tick.where.empty() == placed ||
            (placed && tick.where != item.where))
          continue;
        check.ticked = used[i] = true;
      }
    list.push_back(std::move(check));
  }
  for (std::size_t i = 0; i < w.record.sealed.size(); ++i) {
    const SealTick& tick = w.record.sealed[i];
    const BypassRow* row = w.tables.bypass(tick.kind);
    if (!used[i]) list.push_back({tick.kind, row ? row->name : tick.kind, tick.where, false, true});
  }
  return list;
}

int hazards_of_kind(const Survey& survey, const std::string& kind) {
  return static_cast<int>(std::count_if(survey.hazards.begin(), survey.hazards.end(),
                                        [&](const Hazard& h) { return h.kind == kind; }));
}

bool clears(const Survey& survey, const ClearedHazard& paper, const Hazard& hazard) {
  if (paper.kind != hazard.kind) return false;
  return paper.where.empty() ? hazards_of_kind(survey, paper.kind) == 1
                             : paper.where == hazard.where;
}

Hazard with_paper(const Hazard& hazard, const ClearedHazard& paper) {
  Hazard h = hazard;
  h.by_record = true;
  h.cleared_by = paper.by;
  h.blank_trade = !says_something(paper.trade);
  if (says_something(paper.by) && says_something(paper.trade)) h.cleared_by += ", " + paper.trade;
  h.cleared_date = paper.date;
  h.cleared_paper = paper.paper;
  return h;
}

const ClearedHazard* paper_for(const Hazard& hazard, const Survey& survey, const Record& record,
                               const Tables& tables) {
  const ClearedHazard* first = nullptr;
  for (const ClearedHazard& c : record.cleared) {
    if (!clears(survey, c, hazard)) continue;
    if (is_cleared(with_paper(hazard, c), survey, tables)) return &c;
    if (first == nullptr) first = &c;
  }
  return first;
}

std::vector<HazardCheck> check_hazards(const InspectWork& w) {
  std::vector<HazardCheck> list;
  for (const Hazard& h : w.survey.hazards) {
    HazardCheck check{h.kind, h.where, is_cleared(h, w.survey, w.tables),    "", "",
                      "",     "",      clearing_fault(h, w.survey, w.tables)};
    const ClearedHazard* paper = h.by_record ? paper_for(h, w.survey, w.record, w.tables) : nullptr;
    if (check.cleared || !check.but.empty()) {
      check.by = h.cleared_by;
      check.date = h.cleared_date;
      check.paper = h.cleared_paper;
      if (paper != nullptr) {
        check.by = paper->by;
        check.trade = paper->trade;
      }
    }
    list.push_back(std::move(check));
  }
  return list;
}

// ---- Receipt (16 CFR 460.17) and code certificate

namespace {

/// R is the product's own by its chart; without a chart it stays blank, for R per inch is never
/// multiplied by a depth here.
void fill_r(ReceiptPart& part, const SectionInspection& s, bool chart) {
  if (!chart) part.blank_r = part.blank_settled = "no-chart";
  if (chart && !s.layer.by_weight)
    part.blank_r = part.blank_settled = s.weight.why == "bag-unknown" ? "no-bag-weight" : "no-bags";
  if (chart && s.weight.shared) part.blank_r = part.blank_settled = "counted-together";
  if (!part.blank_r.empty()) return;
  part.r = s.layer.r;
  part.settled = s.layer.settled;
}

ReceiptPart receipt_part(const SectionInspection& s, bool chart) {
  ReceiptPart part;
  part.name = s.name;
  part.area = std::min(s.area, s.built_area.value_or(s.area));
  part.existing = s.existing_r;
  fill_r(part, s, chart);
  if (s.depth.count == 0)
    part.blank_initial = "not-read";
  else if (!s.depth.kind_known)
    part.blank_initial = "kind-unknown";
  else if (s.depth.kind == DepthKind::settled)
    part.blank_initial = "settled-read";
  else
    part.initial = s.layer.initial;
  if (!s.weight.used)
    part.blank_bags = "not-counted";
  else if (s.weight.shared)
    part.blank_bags = "counted-together";
  else
    part.bags = s.weight.used;
  if (part.bags && part.initial && s.weight.weight && *part.initial > Length{})
    part.density = Density::from_us(s.weight.weight->us() * 12.0 / part.initial->us());
  else
    part.blank_density = s.weight.why == "bag-unknown" ? "no-bag-weight" : "bags-and-depth";
  return part;
}

/// Bags and depths that are to be read again stand on no receipt.
ReceiptPart blank_part(const SectionInspection& s) {
  ReceiptPart part;
  part.name = s.name;
  part.area = s.area;
  part.existing = s.existing_r;
  part.blank_r = part.blank_initial = part.blank_settled = part.blank_bags = part.blank_density =
      "read-again";
  return part;
}

}  // namespace

Receipt make_receipt(const InspectWork& w, const Inspection& inspection) {
  Receipt r;
  r.installer = w.record.installer;
  r.date = w.record.date;
  r.maker = w.record.maker;
  r.chart = w.blow.fill.chart != nullptr;
  const Proposal used = w.survey.proposal.value_or(Proposal{});
  if (used.product) r.product = used.product->name;
  if (w.blow.material) r.type = w.blow.material->name;
  if (used.bag_net) r.bag_net = used.bag_net;
  for (const SectionInspection& s : inspection.sections) {
    const bool laid = is_floor(s.kind) && !is_blown(s.plan) && s.plan.adds();
    if (laid || s.done.value_or(false)) r.left_out.push_back(s.name);
    if (!is_floor(s.kind) || !is_blown(s.plan)) continue;
    r.parts.push_back(s.read_again.empty() ? receipt_part(s, r.chart) : blank_part(s));
    if (s.weight.shared && s.read_again.empty())
      r.bags_together = r.bags_together.value_or(0.0) + s.weight.used.value_or(0.0);
  }
  return r;
}

}  // namespace overjoist::parts
