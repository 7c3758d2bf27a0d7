// SPDX-License-Identifier: MIT
#include "inspect/parts.hpp"

// A lid of the finished job.
namespace overjoist::parts {

void judge_lid(const Judge& j, SectionInspection& s, Section& built) {
  const RecordSection* record = recorded(j.w.record, s.name);
  s.verdict = BuiltVerdict::nothing_planned;
  s.lid = LidCheck{};
  if (record)
    s.lid = LidCheck{record->done.value_or(record->insulation_r.has_value()), record->insulation_r,
                     record->weatherstripped, record->latched};
  if (s.lid->insulation_r)
    built.after_insulation_r = s.lid->insulation_r;
  else if (!s.lid->done && built.after_insulation_r) {
    built.after_insulation_r.reset();
    j.notes.assume("built-as-found", s.name);
  }
}

}  // namespace overjoist::parts
