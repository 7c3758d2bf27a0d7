// SPDX-License-Identifier: MIT
#include "evaluate/lid.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/worked.hpp"

// Hatches and pull-down stairs: no loose fill goes there, so what they get is the survey's own.
namespace overjoist::parts {

void plan_lid(WorkedSection& result, const BuiltSection& built, Notes& notes) {
  const Section& s = *built.survey;
  for (TopUp* t : each(result.planned)) {
    if (s.after_insulation_r) {
      t->working_r = *s.after_insulation_r;
      t->effective_r = *s.after_insulation_r + built.ends.both();
    }
    if (reaches(t->after().us(), t->target_r.us())) t->status = TopUpStatus::met;
  }
  const ExistingResult& now = result.found.existing;
  const Resistance found = now.r().of(result.planned.high.basis);
  if (!reaches(found.us(), result.planned.high.target_r.us()))
    notes.caution("hatch-below-attic", result.found.name,
                  {{"r", found}, {"target", result.planned.high.target_r}});
  if (!s.after_insulation_r) return;
  notes.assume("hatch-plan", result.found.name, {{"value", *s.after_insulation_r}});
  if (*s.after_insulation_r < now.working_r)
    notes.caution("hatch-plan-lower", result.found.name,
                  {{"planned", *s.after_insulation_r}, {"r", now.working_r}});
}

std::vector<PatchResult> patches(const BuiltSection& built, Notes& notes) {
  std::vector<PatchResult> list;
  for (const Patch& p : built.survey->patches) {
    const Resistance bare = built.ends.both();
    if (!p.total_r) notes.assume("patch-bare", built.survey->name, {{"value", bare}});
    list.push_back({p.kind, p.where, p.area, p.total_r.value_or(bare)});
  }
  return list;
}

}  // namespace overjoist::parts
