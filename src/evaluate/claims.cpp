// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "evaluate/attic_above.hpp"
#include "evaluate/quote.hpp"

// The claims of a quote held against the figures (method eq. 15a). Needs sections, attic and totals
// with their savings.
namespace overjoist::parts {
namespace {

constexpr double kHalfR = 0.5;  // labels and quotes speak of whole R

/// A figure of one end, and up to where a claim beside it is too close to call.
struct Figure {
  std::optional<double> value, sure;
};

struct ClaimWork {
  const Evaluation& e;
  const Survey& survey;
  std::optional<double> price_per_bag;
  Ends<End> ends;  ///< lowest and highest of those that the quote is held against
};

/// The end whose target is nearest to the final R that the quote sells; both where it names none.
Ends<End> sold_ends(const std::vector<Claim>& claims, const TargetBand& band) {
  constexpr Ends<End> kBoth{End::low, End::high};
  const auto final_r = std::find_if(claims.begin(), claims.end(),
                                    [](const Claim& c) { return c.kind == ClaimKind::final_r; });
  if (final_r == claims.end()) return kBoth;
  const auto away = map(band, [&](Resistance r) { return std::fabs(final_r->value - r.us()); });
  if (same(away)) return kBoth;
  const End nearest = away.low < away.high ? End::low : End::high;
  return {nearest, nearest};
}

/// The section that a claim names, or the only one that takes fill, or the only one; empty: not
/// clear.
std::optional<std::size_t> section_of(const Claim& claim, const Evaluation& e) {
  std::optional<std::size_t> found;
  std::size_t filled = 0;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionEnds s = e.section(i);
    if (!claim.where.empty() && s.found.name == claim.where) return i;
    if (either(s, [](const TopUp& t) { return t.new_depth.has_value(); })) {
      found = i;
      ++filled;
    }
  }
  if (!claim.where.empty()) return {};
  if (filled == 1) return found;
  return e.sections.size() == 1 ? std::optional<std::size_t>(0) : std::nullopt;
}

void settle(ClaimResult& r, ClaimVerdict verdict, std::string_view why) {
  r.verdict = verdict;
  r.why = why;
}

void set_computed(ClaimResult& r, const Ends<std::optional<double>>& computed) {
  r.computed_low = computed.low;
  r.computed_high = computed.high;
}

// ---- R

void judge_existing(ClaimResult& r, const ExistingResult& now) {
  if (now.unmeasured) return settle(r, ClaimVerdict::not_judged, "not-known");
  const ClaimBasis basis = r.claim.basis.value_or(ClaimBasis::working);
  const Resistance found = basis == ClaimBasis::label       ? now.yardstick_r
                           : basis == ClaimBasis::effective ? now.effective_r
                                                            : now.working_r;
  const auto& range = basis == ClaimBasis::effective ? now.effective_r_range : now.working_r_range;
  r.computed_low = r.computed_high = found.us();
  if (range && basis != ClaimBasis::label) {
    r.range_low = range->low.us();
    if (range->high) r.range_high = range->high->us();
  }
  const double c = r.claim.value;
  if (std::fabs(c - found.us()) <= kHalfR) return settle(r, ClaimVerdict::agrees, "as-computed");
  if (r.range_low && c >= *r.range_low && (!r.range_high || c <= *r.range_high))
    return settle(r, ClaimVerdict::too_close, "within-range");
  settle(r, ClaimVerdict::disagrees, c < found.us() ? "found-more" : "found-less");
}

/// True if what is done in this section is the survey's own words, not a plan made to reach the
/// target: only then does its R say anything of a final R that a quote names.
bool states_work(const Section& section, const SectionEnds& s) {
  if (is_lid(section.kind)) return section.after_insulation_r.has_value();
  return is_cavity(section.kind) && section.add && s.found.cavity &&
         s.high.status != TopUpStatus::met;
}

/// A final R is a promise: the work that the survey states must reach it. Our own plan would prove
/// nothing but its own target.
void judge_final(ClaimResult& r, const SectionEnds& s, const Section& section) {
  if (!states_work(section, s)) return settle(r, ClaimVerdict::not_judged, "not-worked-out");
  const bool working = r.claim.basis.value_or(ClaimBasis::working) == ClaimBasis::working;
  const double value = (working ? s.high.working_r : s.high.effective_r).us(), c = r.claim.value;
  const auto& range = working ? s.high.working_r_printed : s.high.effective_r_printed;
  r.computed_low = r.computed_high = value;
  const double least = range ? range->low.us() : value;
  const bool no_upper_end = range && !range->high;
  const double most = range && range->high ? range->high->us() : value;
  if (range) r.range_low = least;
  if (range && range->high) r.range_high = most;
  const bool known =
      section.layers.empty() || is_lid(section.kind) || effective_count(section.readings) >= 2.0;
  if (reaches(least, c))
    return known ? settle(r, ClaimVerdict::agrees, "reached")
                 : settle(r, ClaimVerdict::too_close, "unevenness-unknown");
  if (reaches(value, c)) return settle(r, ClaimVerdict::too_close, "middle-only");
  if (no_upper_end || reaches(most, c)) return settle(r, ClaimVerdict::too_close, "within-stated");
  const bool near = reaches(value + kHalfR, c);
  settle(r, near ? ClaimVerdict::too_close : ClaimVerdict::disagrees,
         near ? "within-half" : "stated-less");
}

/// A final R of no clear place: one of those whose work the survey states, if there are any.
std::string_view why_no_section(const Claim& c, const ClaimWork& work) {
  if (c.kind != ClaimKind::final_r) return "which-section";
  for (std::size_t i = 0; i < work.e.sections.size(); ++i)
    if (states_work(work.survey.sections[i], work.e.section(i))) return "which-section";
  return "not-worked-out";
}

// ---- Inches and bags: what is sold must be at least what is needed

/// What must be blown on top of the plan to be sure of the target [in. as blown]; empty: not known.
std::optional<double> more_to_be_sure(const TopUp& t) {
  if (!t.level_exact || !t.confident_level) return {};
  return std::max(0.0, (*t.confident_level - *t.level_exact).us());
}

Figure thickness_figure(ClaimKind kind, const TopUp& t) {
  Figure f;
  if (kind == ClaimKind::initial_in && t.initial_level)
    f.value = (t.level_exact ? std::min(*t.level_exact, *t.initial_level) : *t.initial_level).us();
  if (kind == ClaimKind::settled_in && t.settled_level) f.value = t.settled_level->us();
  if (kind == ClaimKind::added_in && t.new_depth) f.value = t.field_depth()->us();
  const auto more = more_to_be_sure(t);
  if (f.value && more) f.sure = *f.value + *more;
  return f;
}

Figure bags_figure(const TopUp& t) {
  Figure f;
  f.value = t.bags_exact;
  const auto more = more_to_be_sure(t);
  if (t.bags_exact && more && t.field_initial() && *t.field_initial() > Length{})
    f.sure = *t.bags_exact * (1.0 + *more / t.field_initial()->us());
  return f;
}

/// The bags of all sections that take fill.
Figure all_bags(const Planned& planned) {
  Figure all{0.0, 0.0};
  for (const TopUp& t : planned.sections) {
    if (!t.adds()) continue;
    const Figure f = bags_figure(t);
    all.value = all.value && f.value ? std::optional(*all.value + *f.value) : std::nullopt;
    all.sure = all.sure && f.sure ? std::optional(*all.sure + *f.sure) : std::nullopt;
  }
  return all;
}

/// Bags are whole and inches are read to a half: what is needed is rounded up only for bags.
void judge_at_least(ClaimResult& r, const Ends<Figure>& found, const Ends<End>& ends) {
  const bool whole = r.claim.kind == ClaimKind::bags;
  const auto shown = [&](std::optional<double> v) {
    return v && whole ? std::optional(round_up(*v, 1.0)) : v;
  };
  set_computed(r, map(found, [&](const Figure& f) { return shown(f.value); }));
  const Figure& end = at(found, ends.low);
  const auto need = shown(end.value), sure = shown(end.sure);
  if (!need) return settle(r, ClaimVerdict::not_judged, "not-known");
  if (*need <= 0) return settle(r, ClaimVerdict::disagrees, "nothing-needed");
  if (!reaches(r.claim.value, *need)) return settle(r, ClaimVerdict::disagrees, "too-little");
  r.range_low = need;
  r.range_high = sure;
  if (!sure) return settle(r, ClaimVerdict::too_close, "not-sure");
  const bool enough = reaches(r.claim.value, *sure);
  settle(r, enough ? ClaimVerdict::agrees : ClaimVerdict::too_close,
         enough ? "enough" : "mean-only");
}

// ---- Savings: a promise is borne out by no more than the computed figure

/// Percent of the ceiling's loss that the end saves; `sure` is the most that the range of what was
/// found leaves.
Figure ceiling_percent(const Evaluation& e, const Planned& planned) {
  if (!(e.attic.existing.ua > Conductance{})) return {};
  const Losses l = losses_of(e, planned);
  return {100.0 * (1.0 - l.after / l.found), 100.0 * (1.0 - l.after / l.most)};
}

Figure saving_figure(const Evaluation& e, const Planned& planned) {
  const Totals& t = planned.totals;
  const auto& year = t.year_by_bills ? t.year_by_bills : t.year;
  if (!year || !year->fuel.money) return {};
  Figure f{year->fuel.money, year->fuel.money};
  const Losses l = losses_of(e, planned);
  if (l.found > l.after) f.sure = *f.value * (l.most - l.after) / (l.found - l.after);
  return f;
}

/// Quotes speak of whole figures: the computed ones are rounded up.
void judge_at_most(ClaimResult& r, const Ends<Figure>& found, const Ends<End>& ends,
                   std::string_view more) {
  set_computed(r, map(found, [](const Figure& f) { return f.value; }));
  const Figure& end = at(found, ends.high);
  if (!end.value) return settle(r, ClaimVerdict::not_judged, "not-priced");
  const double most = round_up(*end.value, 1.0),
               at_most = round_up(std::max(*end.value, *end.sure), 1.0);
  r.range_low = *end.value;  // the range holds the figure that it is about
  r.range_high = at_most;
  if (reaches(most, r.claim.value)) return settle(r, ClaimVerdict::agrees, "not-more");
  if (reaches(at_most, r.claim.value)) return settle(r, ClaimVerdict::too_close, "within-range");
  settle(r, ClaimVerdict::disagrees, more);
}

void judge_percent(ClaimResult& r, const ClaimWork& work) {
  const Evaluation& e = work.e;
  auto saved = map(e.planned, [&](const Planned& job) { return ceiling_percent(e, job); });
  if (e.heating && e.heating->bills) {
    const double share = e.heating->bills->computed_share * e.heating->bills->factor;
    for (Figure* f : each(saved))
      if (f->value) *f = {*f->value * share, *f->sure * share};
    return judge_at_most(r, saved, work.ends, "more-than-bills-bear");
  }
  judge_at_most(r, saved, work.ends, "more-than-ceiling");
  if (r.verdict != ClaimVerdict::disagrees) settle(r, ClaimVerdict::not_judged, "percent-of-what");
}

// ---- Price

void judge_price(ClaimResult& r, const ClaimWork& work) {
  const auto cost = map(work.e.planned, [](const Planned& job) { return job.totals.cost; });
  set_computed(r, cost);
  if (!both(cost, kKnown)) return settle(r, ClaimVerdict::not_judged, "not-priced");
  const auto [least, most] = map(work.ends, [&](End end) { return *cost[end]; });
  const double bag = work.price_per_bag.value_or(0.0), c = r.claim.value;
  r.range_low = std::max(0.0, least - bag);
  r.range_high = most + bag;
  if (reaches(c, least) && reaches(most, c)) return settle(r, ClaimVerdict::agrees, "as-computed");
  if (reaches(c, *r.range_low) && reaches(*r.range_high, c))
    return settle(r, ClaimVerdict::too_close, "within-a-bag");
  settle(r, ClaimVerdict::disagrees, c > most ? "price-above" : "price-below");
}

void judge(ClaimResult& r, const ClaimWork& work) {
  const Evaluation& e = work.e;
  const Claim& c = r.claim;
  const bool saving = c.kind == ClaimKind::percent_saved || c.kind == ClaimKind::annual_saving;
  const auto left = [](const SectionResult& s) { return s.heated_below && s.existing.unmeasured; };
  if (saving && std::any_of(e.sections.begin(), e.sections.end(), left))
    return settle(r, ClaimVerdict::not_judged, "not-known");
  if (c.kind == ClaimKind::percent_saved) return judge_percent(r, work);
  if (c.kind == ClaimKind::annual_saving)
    return judge_at_most(r,
                         map(e.planned, [&](const Planned& job) { return saving_figure(e, job); }),
                         work.ends, "saves-less");
  if (c.kind == ClaimKind::price) return judge_price(r, work);
  if (c.kind == ClaimKind::bags && c.where.empty())
    return judge_at_least(r, map(e.planned, all_bags), work.ends);
  const auto index = section_of(c, e);
  if (!index) return settle(r, ClaimVerdict::not_judged, why_no_section(c, work));
  const SectionEnds s = e.section(*index);
  if (c.kind == ClaimKind::existing_r) return judge_existing(r, s.found.existing);
  if (c.kind == ClaimKind::final_r) return judge_final(r, s, work.survey.sections[*index]);
  if (c.kind == ClaimKind::bags) return judge_at_least(r, map(s, bags_figure), work.ends);
  judge_at_least(r, map(s, [&](const TopUp& t) { return thickness_figure(c.kind, t); }), work.ends);
}

}  // namespace

void hold_claims(Evaluation& e, const Survey& survey, const Proposal& proposal) {
  const ClaimWork work{e, survey, proposal.price_per_bag, sold_ends(survey.claims, e.target)};
  std::vector<ClaimResult> list;
  for (const Claim& claim : survey.claims) {
    ClaimResult r;
    r.claim = claim;
    judge(r, work);
    list.push_back(std::move(r));
  }
  e.claims = std::move(list);
}

}  // namespace overjoist::parts
