// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate_parts.hpp"

// Rebate rules held against what the plan blows. Needs sections and totals.
namespace overjoist::parts {
namespace {

/// Area over the sum of area / R, for the sections that take fill; the range joins the same ends, as if all were off the
/// same way, which is against us.
class MeanR {
 public:
  void add(Area area, Resistance r, const std::optional<ResistanceRange>& range) {
    area_ += area.us();
    central_ += area.us() / r.us();
    ranged_ = ranged_ && range && range->low > Resistance{};
    if (!ranged_) return;
    low_ += area.us() / range->low.us();
    if (range->high)
      high_ += area.us() / range->high->us();
    else
      open_ = true;
  }
  RangedR value() const {
    RangedR r;
    if (!(area_ > 0)) return r;
    r.r = Resistance::from_us(area_ / central_);
    if (!ranged_) return r;
    r.range = ResistanceRange{Resistance::from_us(area_ / low_), {}};
    if (!open_) r.range->high = Resistance::from_us(area_ / high_);
    return r;
  }

 private:
  double area_ = 0.0, central_ = 0.0, low_ = 0.0, high_ = 0.0;
  bool ranged_ = true, open_ = false;
};

RebateInput input_of(const Evaluation& e, const TotalsResult& totals, TopUpResult SectionResult::*end) {
  RebateInput in;
  MeanR before, after;
  for (const SectionResult& s : e.sections) {
    const TopUpResult& t = s.*end;
    if (!t.new_depth || !(t.new_depth->greatest > Length{})) continue;
    if (!(s.existing.working_r > Resistance{})) continue;
    before.add(s.area, s.existing.working_r, s.existing.working_r_range);
    after.add(s.area, t.working_r, t.working_r_range);
  }
  in.existing = before.value();
  in.final_r = after.value();
  in.area = totals.blown_area;
  in.cost = totals.cost;
  if (e.heating) in.fuel = e.heating->fuel;
  return in;
}

}  // namespace

void hold_rebates(Evaluation& e, const Survey& survey) {
  for (const RebateRule& rule : survey.rebates) {
    RebateResult r;
    r.name = rule.name;
    r.low = hold_rebate(rule, input_of(e, e.low, &SectionResult::low));
    r.high = hold_rebate(rule, input_of(e, e.high, &SectionResult::high));
    for (const std::string& paper : rule.papers) {
      const bool have = std::find(survey.papers.begin(), survey.papers.end(), paper) != survey.papers.end();
      (have ? r.papers_have : r.papers_lacking).push_back(paper);
    }
    e.rebates.push_back(std::move(r));
  }
}

}  // namespace overjoist::parts
