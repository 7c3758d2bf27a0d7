// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/parts.hpp"

// A row of a comparison is a short view of an evaluation: nothing is worked out anew.
namespace overjoist::parts {
namespace {

CompareEnd end_of(const Evaluation& e, TopUpResult SectionResult::*end, const TotalsResult& totals,
                  const AtticState& attic) {
  CompareEnd c;
  c.totals = totals;
  c.effective_r = attic.effective_r;
  const SectionResult* largest = nullptr;
  for (const SectionResult& s : e.sections) {
    if (!s.heated_below || !is_floor(s.kind)) continue;
    if (!largest || s.area > largest->area) largest = &s;
  }
  if (!largest) return c;
  const TopUpResult& main = largest->*end;
  c.status = main.status;
  c.limited_by = main.limited_by;
  if (main.limited_by != LimitedBy::nothing) c.limited_section = largest->name;
  c.initial_level = main.initial_level;
  if (main.new_depth) c.depth = main.new_depth->mean;
  c.weight = main.weight_greatest;
  c.weight_limit = main.weight_limit;
  if (c.weight && c.weight_limit) c.over_weight = !reaches(c.weight_limit->us(), c.weight->us());
  c.working_r = main.working_r;
  c.reached = true;
  for (const SectionResult& s : e.sections) {
    const TopUpResult& t = s.*end;
    if (s.heated_below && is_floor(s.kind)) c.reached = c.reached && t.reached;
    if (!s.heated_below || !is_floor(s.kind) || t.status != TopUpStatus::unreachable ||
        c.status == t.status)
      continue;
    c.status = t.status;
    c.limited_by = t.limited_by;
    c.limited_section = s.name;
  }
  return c;
}

}  // namespace

CompareRow compare_row(const Evaluation& e, const std::string& name) {
  CompareRow row;
  row.name = name.empty() ? e.added_material : name;
  row.method = e.method;
  row.low = end_of(e, &SectionResult::low, e.low, e.attic.low);
  row.high = end_of(e, &SectionResult::high, e.high, e.attic.high);
  row.cautions = e.cautions;
  return row;
}

}  // namespace overjoist::parts
