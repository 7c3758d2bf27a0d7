// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "evaluate/offer.hpp"
#include "inspect/parts.hpp"

// What a tag says, a claim after the fact (method eq. 19b); and the plan by the tag's own R per
// inch where no chart is known.
namespace overjoist::parts {
namespace {

constexpr double kHalfR = 0.5;  // tags speak of whole R

/// R of a layer of the fill at the low and the high end of its material; both the same with a
/// chart.
Ends<double> layer_r(const Blow& blow, const TagClaim& tag) {
  const NewFill& fill = blow.fill;
  if (fill.chart) {
    const Length settled = tag.initial ? fill.settled(*tag.initial) : *tag.settled;
    const double r = fill.r(std::min(settled, fill.chart->last_settled())).us();
    return {r, r};
  }
  // As blown it settles as the job itself is taken to: one fill has one range.
  const Material& m = *blow.material;
  const Length settled = tag.initial ? *tag.initial * (1.0 - fill.settling) : *tag.settled;
  return map(m, [&](const auto& rho) { return (rho.value_or(fill.rho) * settled).us(); });
}

/// The most that a layer of the tag may have: settled as the tag says, or as little as the material
/// may.
double best_r(const Blow& blow, const TagClaim& tag) {
  const Material& m = *blow.material;
  const double settles = m.settling_low.value_or(blow.fill.settling);
  return (m.high.value_or(blow.fill.rho) *
          (tag.settled ? *tag.settled : *tag.initial * (1.0 - settles)))
      .us();
}

/// By a chart a promise is kept where its R is reached, and too close within half an R. Without one
/// the material alone is known: the tag agrees with it up to the high end of its range; where only
/// its own settling or the least one explains it, it is too close.
TagCheck check_r(const Blow& blow, const TagClaim& tag) {
  TagCheck check;
  check.what = tag.initial ? "r-at-initial" : tag.settled ? "r-at-settled" : "r-alone";
  check.claimed = tag.r->us();
  if (!tag.initial && !tag.settled) {
    check.why = "no-thickness";
    return check;
  }
  const Ends<double> r = layer_r(blow, tag);
  check.found = r.low;
  const double most = blow.fill.chart ? r.high : std::max(r.high, best_r(blow, tag));
  const bool near = reaches(most, check.claimed - kHalfR);
  check.verdict = reaches(r.high, check.claimed) ? ClaimVerdict::agrees
                  : near                         ? ClaimVerdict::too_close
                                                 : ClaimVerdict::disagrees;
  if (blow.fill.chart) return check;
  check.found_high = r.high;
  check.why = "no-chart";
  return check;
}

/// What a figure of the plan is, and by the tag's own R per inch or the material's best, and a
/// light bag.
struct PlanFigure {
  std::optional<double> plan, by_tag;
  bool of_tag = false;  ///< the second follows from what the tag says
};

/// Agrees where the tag says at least what the plan takes; too close where that is only our R per
/// inch against the tag's.
TagCheck against_plan(std::string_view what, double claimed, const PlanFigure& planned,
                      std::string_view why) {
  TagCheck check;
  check.what = what;
  check.claimed = claimed;
  check.found = planned.plan;
  if (!planned.plan || why == "plan-below-target" || why == "bag-unknown") {
    check.why = why;
    return check;
  }
  const bool by_tag = planned.by_tag && reaches(claimed, *planned.by_tag),
             by_plan = reaches(claimed, *planned.plan);
  check.verdict = by_plan  ? ClaimVerdict::agrees
                  : by_tag ? ClaimVerdict::too_close
                           : ClaimVerdict::disagrees;
  if (check.verdict == ClaimVerdict::too_close) check.why = planned.of_tag ? "by-tag" : "by-range";
  return check;
}

/// The one floor that is blown.
struct BlownOne {
  std::size_t index = 0;
  int count = 0;
  bool full = false;  ///< a plan that is only what fits: what the tag says of depth and bags proves
                      ///< nothing of what was sold
};

BlownOne blown_one(const InspectWork& w) {
  BlownOne one;
  for (std::size_t i = 0; i < w.plan.sections.size(); ++i) {
    const TopUp& t = w.job.sections[i];
    if (!is_floor(w.plan.sections[i].kind) || !is_blown(t)) continue;
    one.index = i;
    ++one.count;
    one.full = one.full || t.status == TopUpStatus::unreachable;
  }
  return one;
}

}  // namespace

std::optional<TaggedFill> tagged_fill(const Survey& used, const Record& record, const Blow& blow) {
  if (!record.tag || blow.method != Method::blown || blow.fill.chart || !blow.material) return {};
  const TagClaim& tag = *record.tag;
  TaggedFill t{used, blow.fill.settling};
  t.rated = tag.r && (tag.initial || tag.settled);
  const bool both = tag.initial && tag.settled && *tag.settled <= *tag.initial;
  if (both) t.settling = 1.0 - *tag.settled / *tag.initial;
  Material own = *blow.material;
  Resistivity rho = own.high.value_or(blow.fill.rho);
  if (t.rated) {
    if (check_r(blow, tag).verdict == ClaimVerdict::disagrees) return {};
    rho = *tag.r / (tag.settled ? *tag.settled : *tag.initial * (1.0 - t.settling));
  }
  own.id += " by its tag";
  own.typical = rho;
  set_both(own, rho);
  own.settling_low = own.settling_high = t.settling;
  if (own.density_low) own.density_high = own.density_low;
  t.survey.proposal = used.proposal.value_or(Proposal{});
  t.survey.proposal->material = own.id;
  t.survey.materials.push_back(std::move(own));
  return t;
}

std::optional<TagBags> bags_by_tag(const InspectWork& w, const BlownFloor& floor) {
  if (!floor.by_tag || !w.record.tag || blown_one(w).count != 1) return {};
  const TagClaim& tag = *w.record.tag;
  if (!tag.r || !tag.bags || !floor.plan.bags_exact) return {};
  // What the level takes before it is rounded to a tape: by the tag's own thickness where it tells
  // one, else by its R alone.
  const auto exact = [](const TopUp& t, double settling) {
    const Length over = t.level_exact && *t.level_exact < *t.initial_level
                            ? *t.initial_level - *t.level_exact
                            : Length{};
    return *t.field_depth() - over * (1.0 - settling);
  };
  const NewFill& fill = w.blow.fill;
  double part = (fill.rho * exact(floor.plan, fill.settling)).us() / tag.r->us();
  if (floor.tag_rated) {
    const Length settled = tag.settled ? *tag.settled : *tag.initial * (1.0 - floor.tag_settling);
    part = exact(*floor.by_tag, floor.tag_settling) / settled;
  }
  constexpr double kSame = 1e-6;  // a level is found within so much
  const bool scaled = std::fabs(part - 1.0) > kSame;
  const double bags = *tag.bags * (scaled ? part : 1.0);
  if (!reaches(bags, least_bags(floor.plan, floor.by_tag)))
    return {};  // lighter than such a fill comes
  return TagBags{bags, scaled};
}

std::vector<TagCheck> check_tag(const InspectWork& w) {
  std::vector<TagCheck> list;
  if (!w.record.tag || w.blow.method != Method::blown) return list;
  const TagClaim& tag = *w.record.tag;
  const BlownOne one = blown_one(w);
  const auto depth = [&](std::optional<Length> (TopUp::*of)() const) {
    PlanFigure p;
    p.of_tag = w.tag_rated;
    if (one.count != 1) return p;
    if (const auto d = (w.job.sections[one.index].*of)()) p.plan = d->us();
    if (!w.by_tag) return p;
    if (const auto d = (w.by_tag->sections[one.index].*of)()) p.by_tag = d->us();
    return p;
  };
  const std::string_view full = one.full ? "plan-below-target" : "";
  const std::string_view why = one.count == 0   ? "nothing-planned"
                               : one.count == 1 ? full
                                                : "several-sections";
  if (tag.r) list.push_back(check_r(w.blow, tag));
  if (tag.initial)
    list.push_back(against_plan("initial", tag.initial->us(), depth(&TopUp::field_initial), why));
  if (tag.settled)
    list.push_back(against_plan("settled", tag.settled->us(), depth(&TopUp::field_depth), why));
  if (!tag.bags) return list;
  const bool bag_known = w.survey.proposal && w.survey.proposal->bag_net;
  const std::string_view no_bags = !full.empty() ? full : bag_known ? "no-density" : "bag-unknown";
  list.push_back(against_plan(
      "bags", *tag.bags,
      {w.job.totals.bags, w.by_tag ? w.by_tag->totals.bags : std::nullopt, false}, no_bags));
  return list;
}

}  // namespace overjoist::parts
