// SPDX-License-Identifier: MIT
#include <cstddef>
#include <optional>

#include "evaluate/chain.hpp"
#include "evaluate/compare.hpp"

// A row of a comparison is a short view of an evaluation: nothing is worked out anew.
namespace overjoist::parts {
namespace {

CompareEnd end_of(const Evaluation& e, const Planned& planned) {
  CompareEnd c;
  c.totals = planned.totals;
  c.effective_r = planned.attic.effective_r;
  std::optional<std::size_t> largest;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    if (!s.heated_below || !is_floor(s.kind)) continue;
    if (!largest || s.area > e.sections[*largest].area) largest = i;
  }
  if (!largest) return c;
  const TopUp& main = planned.sections[*largest];
  c.status = main.status;
  c.limited_by = main.limited_by;
  if (main.limited_by != LimitedBy::nothing) c.limited_section = e.sections[*largest].name;
  c.initial_level = main.initial_level;
  if (main.new_depth) c.depth = main.new_depth->mean;
  c.weight = main.weight_greatest;
  c.weight_limit = main.weight_limit;
  if (c.weight && c.weight_limit) c.over_weight = !reaches(c.weight_limit->us(), c.weight->us());
  c.working_r = main.working_r;
  c.reached = true;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    const TopUp& t = planned.sections[i];
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

CompareRow compare_row(const Evaluation& e, const std::string& name) {
  CompareRow row;
  row.name = name.empty() ? e.added_material : name;
  row.method = e.method;
  row.ends = each_end([&](End end) { return end_of(e, e.planned[end]); });
  row.cautions = e.findings.cautions;
  return row;
}

}  // namespace

// Every alternative is the same attic with another proposal, worked out by itself.
void add_compare(Evaluation& e, const Survey& survey, const Tables& tables) {
  Survey other = survey;
  e.compare.reserve(survey.compare.size() + 1);
  e.compare.push_back(compare_row(e, survey.proposal ? survey.proposal->name : std::string()));
  for (const Proposal& proposal : survey.compare) {
    other.proposal = proposal;
    e.compare.push_back(compare_row(evaluate_left(other, tables, nullptr), proposal.name));
  }
}

}  // namespace overjoist::parts
