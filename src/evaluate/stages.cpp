// SPDX-License-Identifier: MIT
#include "evaluate/stages.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

#include "evaluate/blown.hpp"
#include "overjoist/topup.hpp"

// The targets of the next-step table, and what each of them takes of a section.
namespace overjoist::parts {
namespace {

/// Effective R as found, but squeezed batts at the high end of their range, and wet or soiled
/// layers at their dry high R.
Resistance high_r(const BuiltSection& built, Notes& notes) {
  std::vector<BuiltLayer> layers = built.layers;
  for (BuiltLayer& layer : layers) {
    layer.side = BattSide::high;
    if (!layer.counts_nothing()) continue;
    layer.condition = Condition::sound;
    layer.in_doubt = false;
    if (!layer.batt && !layer.labelled && layer.material->high) layer.rho = *layer.material->high;
    notes.assume("saving-counts-dry", built.survey->name, {{"material", layer.material->name}});
  }
  Transmittance u;
  for (const Piece& p : built.pieces)
    u += spot_u(built.framing,
                spot_paths(built.ends, built.framing, layers, p.column, built.under_deck)) *
         p.share;
  return inverse(u);
}

bool any_counts_nothing(const BuiltSection& built) {
  if (built.survey->insulation_r || built.survey->total_r)
    return false;  // a hatch by its R: no layers
  return std::any_of(built.layers.begin(), built.layers.end(),
                     [](const BuiltLayer& l) { return l.counts_nothing(); });
}

}  // namespace

std::vector<Stage> stages_of(const Survey& survey, const TargetBand& band, const Tables& tables) {
  if (!survey.heating || !(survey.heating->hdd_f_day || survey.site.hdd65_f_day)) return {};
  const Resistance beyond = band.high + r_value(tables.money_default("step-beyond-r"));
  std::vector<Stage> stages;
  for (const Stage& stage : {Stage{"low", band.low}, Stage{"middle", (band.low + band.high) / 2.0},
                             Stage{"high", band.high}, Stage{"beyond", beyond}}) {
    if (!stages.empty() && reaches(stages.back().target.us(), stage.target.us())) stages.pop_back();
    stages.push_back(stage);
  }
  return stages;
}

namespace {

bool any_squeezed(const BuiltSection& built) {
  for (const Piece& p : built.pieces)
    for (std::size_t i = 0; i < p.column.count; ++i)
      if (built.layers[i].squeezed_at(p.column.thickness[i])) return true;
  return false;
}

void add_stages(SectionSaving& s, const BuiltSection& built, const WorkedSection& result,
                const StageWork& work) {
  if (!built.floor) return;
  const BaseFloor& floor = *built.floor;
  const FloorR now = floor_r(floor, work.blow.fill, Length{});
  for (const Stage& stage : work.stages) {
    if (stage.step == "low" || stage.step == "high" || built.survey->target_r)
      s.stages.push_back(at(result.planned, stage.step == "low" ? End::low : End::high));
    else
      s.stages.push_back(top_up(built, floor, now, work.blow, {stage.target, work.basis}));
  }
}

}  // namespace

SectionSaving section_saving(const BuiltSection& built, const WorkedSection& result,
                             const StageWork& work, Notes& notes) {
  SectionSaving s;
  s.before = result.found.existing.effective_r;
  if (any_counts_nothing(built)) s.before = high_r(built, notes);
  add_stages(s, built, result, work);
  if (any_squeezed(built) && !any_counts_nothing(built)) {
    Resistance most = high_r(built, notes);  // up to what is done: so much less saves nothing
    for (const TopUp* t : each(result.planned)) most = std::min(most, t->effective_r);
    for (const TopUp& t : s.stages) most = std::min(most, t.effective_r);
    const Resistance before = std::max(s.before, most);
    if (!reaches(s.before.us(), before.us()))
      notes.assume("saving-counts-squeezed", result.found.name, {{"value", before}});
    s.before = before;
  }
  return s;
}

}  // namespace overjoist::parts
