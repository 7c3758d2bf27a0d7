// SPDX-License-Identifier: MIT
#include <algorithm>

#include "inspect_parts.hpp"

// What was counted, ticked off and cleared, what a tag says, and the receipt (method eq. 19b).
namespace overjoist::parts {
namespace {

CountState state_of(const std::optional<int>& planned, const std::optional<int>& found) {
  if (!planned) return CountState::plan_unknown;
  if (found) return *found >= *planned ? CountState::met : CountState::short_of;
  return *planned == 0 ? CountState::none_needed : CountState::not_counted;
}

}  // namespace

std::vector<CountCheck> check_counts(const InspectWork& w) {
  const PlanCounts plan = (w.sold == SoldEnd::low ? w.plan.plan.low : w.plan.plan.high).value_or(PlanCounts{});
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
    // A tick with a place is that item's; one without a place stands for one item of its kind that has none of its own.
    for (const bool placed : {true, false})
      for (std::size_t i = 0; i < w.record.sealed.size() && !check.ticked; ++i) {
        const SealTick& tick = w.record.sealed[i];
        if (used[i] || tick.kind != item.kind || tick.where.empty() == placed || (placed && tick.where != item.where)) continue;
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
  return static_cast<int>(std::count_if(survey.hazards.begin(), survey.hazards.end(), [&](const Hazard& h) { return h.kind == kind; }));
}

bool clears(const Survey& survey, const ClearedHazard& paper, const Hazard& hazard) {
  if (paper.kind != hazard.kind) return false;
  return paper.where.empty() ? hazards_of_kind(survey, paper.kind) == 1 : paper.where == hazard.where;
}

std::vector<HazardCheck> check_hazards(const Survey& survey, const Record& record) {
  std::vector<HazardCheck> list;
  for (const Hazard& h : survey.hazards) {
    HazardCheck check{h.kind, h.where, h.cleared(), h.cleared_by, "", h.cleared_date, h.cleared_paper};
    for (const ClearedHazard& c : record.cleared) {
      if (check.cleared || !clears(survey, c, h)) continue;
      check = {h.kind, h.where, true, c.by, c.trade, c.date, c.paper};
    }
    list.push_back(std::move(check));
  }
  return list;
}

// ---- A tag: a claim after the fact

namespace {

constexpr double kHalfR = 0.5;  // tags speak of whole R

/// R of a layer of the fill from the low and the high end of what is known of it; both the same with a chart.
struct TwoR {
  double low, high;
};

TwoR layer_r(const Blow& blow, const TagClaim& tag) {
  const NewFill& fill = blow.fill;
  if (fill.chart) {
    const Length settled = tag.initial ? fill.settled(*tag.initial) : *tag.settled;
    const double r = fill.r(std::min(settled, fill.chart->last_settled())).us();
    return {r, r};
  }
  const Material& m = *blow.material;
  const Length least = tag.initial ? *tag.initial * (1.0 - fill.settling) : *tag.settled;
  const Length most = tag.initial ? *tag.initial * (1.0 - m.settling_low.value_or(fill.settling)) : *tag.settled;
  return {(m.low.value_or(fill.rho) * least).us(), (m.high.value_or(fill.rho) * most).us()};
}

TagCheck check_r(const Blow& blow, const TagClaim& tag) {
  TagCheck check{tag.initial ? "r-at-initial" : tag.settled ? "r-at-settled" : "r-alone", tag.r->us(), {}, ClaimVerdict::not_judged, ""};
  if (!tag.initial && !tag.settled) {
    check.why = "no-thickness";
    return check;
  }
  const TwoR r = layer_r(blow, tag);
  check.found = r.low;
  const bool surely_below = r.high < check.claimed - kHalfR && !reaches(r.high, check.claimed - kHalfR);
  check.verdict = reaches(r.low, check.claimed) ? ClaimVerdict::agrees : surely_below ? ClaimVerdict::disagrees : ClaimVerdict::too_close;
  if (!blow.fill.chart) check.why = "no-chart";
  return check;
}

/// Agrees where the tag says at least what the plan takes.
TagCheck against_plan(std::string_view what, double claimed, std::optional<double> planned, std::string_view why) {
  TagCheck check{what, claimed, planned, ClaimVerdict::not_judged, planned ? "" : why};
  if (planned) check.verdict = reaches(claimed, *planned) ? ClaimVerdict::agrees : ClaimVerdict::disagrees;
  return check;
}

}  // namespace

std::vector<TagCheck> check_tag(const InspectWork& w) {
  std::vector<TagCheck> list;
  if (!w.record.tag) return list;
  const TagClaim& tag = *w.record.tag;
  const TopUpResult* plan = nullptr;
  int filled = 0;
  for (const SectionResult& s : w.plan.sections)
    if (is_floor(s.kind) && is_blown(w.end(s))) {
      plan = &w.end(s);
      ++filled;
    }
  if (w.blow.method != Method::blown) return list;
  const std::string_view why = filled == 0 ? "nothing-planned" : filled == 1 ? "" : "several-sections";
  const auto depth = [&](std::optional<NewDepth> TopUpResult::*of) {
    return filled == 1 ? std::optional((plan->*of)->mean.us()) : std::nullopt;
  };
  if (tag.r) list.push_back(check_r(w.blow, tag));
  if (tag.initial) list.push_back(against_plan("initial", tag.initial->us(), depth(&TopUpResult::new_depth_initial), why));
  if (tag.settled) list.push_back(against_plan("settled", tag.settled->us(), depth(&TopUpResult::new_depth), why));
  const auto& bags = (w.sold == SoldEnd::low ? w.plan.low : w.plan.high).bags;
  if (tag.bags) list.push_back(against_plan("bags", *tag.bags, bags, "no-density"));
  return list;
}

// ---- Receipt (16 CFR 460.17) and code certificate

namespace {

/// R is the product's own by its chart; without a chart it stays blank, for R per inch is never multiplied by a depth here.
void fill_r(ReceiptPart& part, const SectionInspection& s, bool chart) {
  if (!chart) part.blank_r = part.blank_settled = "no-chart";
  if (chart && !s.layer.by_weight) part.blank_r = part.blank_settled = "no-bags";
  if (chart && s.weight.shared) part.blank_r = part.blank_settled = "counted-together";
  if (!part.blank_r.empty()) return;
  part.r = s.layer.r;
  part.settled = s.layer.settled;
}

ReceiptPart receipt_part(const SectionInspection& s, bool chart) {
  ReceiptPart part;
  part.name = s.name;
  part.area = s.area;
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
    part.blank_density = "bags-and-depth";
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
    const bool laid = is_floor(s.kind) && !is_blown(s.plan) && s.plan.new_depth && s.plan.new_depth->greatest > Length{};
    if (laid || s.done.value_or(false)) r.left_out.push_back(s.name);
    if (!is_floor(s.kind) || !is_blown(s.plan)) continue;
    r.parts.push_back(receipt_part(s, r.chart));
    if (s.weight.shared) r.bags_together = r.bags_together.value_or(0.0) + s.weight.used.value_or(0.0);
  }
  return r;
}

}  // namespace overjoist::parts
