// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <vector>

#include "evaluate/quote.hpp"

// Rebate rules held against what the plan blows. Needs sections and totals.
namespace overjoist::parts {
namespace {

/// True where insulation is put in: floors that take fill, and slopes and knee walls that take
/// something.
bool insulated(const SectionResult& s, const TopUp& t) {
  if (!is_cavity(s.kind)) return t.adds();
  const bool work =
      s.cavity && (s.cavity->added > Length{} || s.cavity->continuous_r > Resistance{});
  return work && t.status != TopUpStatus::met;
}

/// True where its R is in the mean: what is insulated, and a slope or knee wall that stays below
/// its target, bare ones as R-0.
bool counts(const SectionResult& s, const TopUp& t) {
  return insulated(s, t) || (is_cavity(s.kind) && s.heated_below && !t.reached);
}

/// A section's part in the mean.
struct Part {
  double area;
  Resistance r;
  std::optional<ResistanceRange> range;
};

// Mean working R (method eq. 14b): the mean U of all parts behind the same films and ceiling, less
// these. So a bare part counts as R-0 and the mean stays finite; parts of one R have just that R.
// The range joins the same ends, as if all were off the same way, which is against us; an R that
// was told has none.
RangedR mean_r(const std::vector<Part>& parts, Resistance ends) {
  if (parts.empty()) return {};
  if (parts.size() == 1) return {parts.front().r, parts.front().range};
  double area = 0.0, central = 0.0, low = 0.0, high = 0.0;
  bool ranged = false, open = false;
  for (const Part& p : parts) {
    const ResistanceRange range = p.range.value_or(ResistanceRange{p.r, p.r});
    area += p.area;
    central += p.area / (p.r + ends).us();
    low += p.area / (range.low + ends).us();
    high += range.high ? p.area / (*range.high + ends).us() : 0.0;
    ranged = ranged || p.range;
    open = open || !range.high;
  }
  const auto mean = [&](double sum) {
    return Resistance::from_us(std::max(0.0, area / sum - ends.us()));
  };
  RangedR r{mean(central), {}};
  if (ranged) r.range = ResistanceRange{mean(low), open ? std::nullopt : std::optional(mean(high))};
  return r;
}

RebateInput input_of(const Evaluation& e, const Survey& survey, const Planned& planned) {
  RebateInput in;
  std::vector<Part> before, after;
  double area = 0.0, ends = 0.0;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    const TopUp& t = planned.sections[i];
    if (!counts(s, t)) continue;
    before.push_back({s.area.us(), s.existing.working_r, s.existing.working_r_range});
    after.push_back({s.area.us(), t.working_r, t.working_r_printed});
    area += s.area.us();
    ends += s.area.us() * s.ends.us();
    if (insulated(s, t)) in.area += s.area;
  }
  const Resistance mean_ends = Resistance::from_us(area > 0 ? ends / area : 0.0);
  in.existing = mean_r(before, mean_ends);
  in.final_r = mean_r(after, mean_ends);
  in.cost = planned.totals.cost;
  if (survey.heating) in.fuel = survey.heating->fuel;  // known even where no saving is worked out
  return in;
}

}  // namespace

void hold_rebates(Evaluation& e, const Survey& survey) {
  for (const RebateRule& rule : survey.rebates) {
    RebateResult r;
    r.name = rule.name;
    set(r, map(e.planned,
               [&](const Planned& job) { return hold_rebate(rule, input_of(e, survey, job)); }));
    for (const std::string& paper : rule.papers) {
      const bool have =
          std::find(survey.papers.begin(), survey.papers.end(), paper) != survey.papers.end();
      (have ? r.papers_have : r.papers_lacking).push_back(paper);
    }
    e.rebates.push_back(std::move(r));
  }
}

}  // namespace overjoist::parts
