// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/floor.hpp"
#include "evaluate/spoiled.hpp"
#include "overjoist/clearing.hpp"

// A hazard that calls insulation wet or soiled takes the R of that fill (method 16), or asks which
// fill it means.
namespace overjoist::parts {
namespace {

bool holds_insulation(const Section& s) {
  return !s.layers.empty() || s.insulation_r.value_or(Resistance{}) > Resistance{} ||
         s.total_r.has_value();
}

/// The only section with insulation, where there is but one.
const Section* only_insulated(const Survey& survey) {
  const Section* only = nullptr;
  for (const Section& s : survey.sections) {
    if (!holds_insulation(s)) continue;
    if (only != nullptr) return nullptr;
    only = &s;
  }
  return only;
}

bool is_open_spoiling(const Hazard& h, const Survey& survey, const Tables& tables) {
  const CautionRow* row = caution_row(h, tables);
  return row != nullptr && row->code == "soiled-insulation" && !is_cleared(h, survey, tables);
}

/// A hazard lies in the section that it names; without a place, in the only section that has
/// insulation.
bool lies_in(const Hazard& h, const Section& s, const Survey& survey) {
  if (names_section(h, s)) return true;
  return (h.where.empty() || h.where == "attic") && names_no_section(h, survey) &&
         only_insulated(survey) == &s;
}

bool told_by_a_layer(const Section& s) {
  return std::any_of(s.layers.begin(), s.layers.end(), [](const Layer& l) {
    return l.condition == Condition::wet || l.condition == Condition::soiled;
  });
}

}  // namespace

void spoil_by_hazards(BuiltSection& built, const Job& job) {
  const Section& s = *built.survey;
  if (told_by_a_layer(s)) return;
  for (const Hazard& h : job.survey.hazards) {
    if (!is_open_spoiling(h, job.survey, job.tables) || !lies_in(h, s, job.survey)) continue;
    built.spoiled_lid = is_lid(s.kind);
    if (built.layers.empty()) continue;
    if (built.layers.size() == 1) {
      built.layers[0].condition = h.kind == "wet-insulation" ? Condition::wet : Condition::soiled;
      job.notes.assume("wet-counts-zero", s.name, {{"material", built.layers[0].material->name}});
      continue;
    }
    for (BuiltLayer& layer : built.layers) layer.in_doubt = true;
    job.notes.caution("spoiled-layer-unknown", s.name);
  }
}

void spoiled_place_cautions(const Job& job) {
  if (std::any_of(job.survey.sections.begin(), job.survey.sections.end(), told_by_a_layer)) return;
  for (const Hazard& h : job.survey.hazards) {
    const auto in = [&](const Section& s) { return lies_in(h, s, job.survey); };
    const bool insulated =
        std::any_of(job.survey.sections.begin(), job.survey.sections.end(), holds_insulation);
    if (insulated && is_open_spoiling(h, job.survey, job.tables) &&
        std::none_of(job.survey.sections.begin(), job.survey.sections.end(), in))
      job.notes.caution("spoiled-place-unknown",
                        h.where.empty() ? std::string_view("attic") : std::string_view(h.where));
  }
}

}  // namespace overjoist::parts
