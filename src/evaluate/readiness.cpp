// SPDX-License-Identifier: MIT
#include "evaluate/readiness.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

// What was looked at, and what still stands in the way of the work.
namespace overjoist::parts {
namespace {

bool leaks_looked_for(const Section& s) { return s.bypasses_given || !s.bypasses.empty(); }

/// Half of a thing looked at is not the thing: each floor has its leaks, vents are low and high,
/// each fan ends somewhere.
LookedAt looked_at(const Evaluation& e, const Survey& survey, const Tables& tables) {
  LookedAt looked = survey.looked_at;
  looked.hazards = looked.hazards || !survey.hazards.empty();
  const auto& sections = survey.sections;
  const auto unseen = [](const Section& s) { return is_floor(s.kind) && !leaks_looked_for(s); };
  looked.bypasses =
      looked.bypasses || (std::any_of(sections.begin(), sections.end(), leaks_looked_for) &&
                          std::none_of(sections.begin(), sections.end(), unseen));
  const VentilationSurvey v = survey.ventilation.value_or(VentilationSurvey{});
  looked.vents = looked.vents || survey.site.unvented() || both(v, kKnown);
  const std::size_t fan_end = tables.caution("fan-end-unknown");
  looked.fan_ends = std::none_of(e.findings.cautions.begin(), e.findings.cautions.end(),
                                 [&](const Caution& c) { return c.row == fan_end && !c.cleared; });
  return looked;
}

std::vector<std::string> unseen_floors(const Survey& survey) {
  std::vector<std::string> names;
  if (std::none_of(survey.sections.begin(), survey.sections.end(), leaks_looked_for)) return names;
  for (const Section& s : survey.sections)
    if (is_floor(s.kind) && !leaks_looked_for(s)) names.push_back(s.name);
  return names;
}

}  // namespace

Readiness readiness(const Evaluation& e, const Survey& survey, const Tables& tables) {
  Readiness r;
  r.looked = looked_at(e, survey, tables);
  r.unseen_floors = unseen_floors(survey);
  for (const Caution& c : e.findings.cautions) {
    if (c.cleared) ++r.cleared;
    if (c.level <= CautionLevel::fix_first) r.missing.push_back({c.row, c.where});
  }
  if (e.plan.entered > 0) r.missing.push_back({tables.caution("seal-first"), "attic"});
  r.ready = r.missing.empty() && r.looked.all();
  return r;
}

}  // namespace overjoist::parts
