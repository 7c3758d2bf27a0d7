// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>

#include "evaluate/cautions.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/spoiled.hpp"
#include "evaluate/worked.hpp"

// Cautions that follow from what is planned for a section.
namespace overjoist::parts {
namespace {

/// Where a weight limit is known for the same board on wider joists, and that is lower.
void wider_spacing(const BuiltSection& built, const std::string& board, const Tables& tables,
                   Notes& notes) {
  const CeilingLimit* here = ceiling_limit(tables, built.board, built.spacing);
  for (const CeilingLimit& row : tables.limits)
    if (here && row.board == built.board && row.spacing > built.spacing && row.limit < here->limit)
      notes.caution("wider-spacing", built.survey->name,
                    {{"board", board}, {"limit", row.limit}, {"spacing", row.spacing}});
}

void reach_caution(const TopUp& t, const std::string& where, Notes& notes) {
  if (t.status != TopUpStatus::unreachable) return;
  static constexpr const char* kWhat[] = {"nothing",
                                          "headroom",
                                          "the deck at the joist tops",
                                          "the last row of the label's chart",
                                          "the depth of the cavity",
                                          "the products of the list",
                                          "what goes into the cavity"};
  notes.caution("target-out-of-reach", where,
                {{"target", t.target_r},
                 {"best", t.after()},
                 {"limit", std::string(kWhat[static_cast<int>(t.limited_by)])}});
}

}  // namespace

void weight_cautions(const BuiltSection& built, const WorkedSection& result,
                     const CeilingLimit* limit, const Tables& tables, Notes& notes) {
  const bool hangs = result.found.kind == SectionKind::slope && result.found.cavity &&
                     result.found.cavity->added > Length{};
  if (!is_floor(result.found.kind) && !hangs) return;
  const std::string& where = result.found.name;
  const Material* board = tables.material(built.board);
  const std::string name = board                 ? board->name
                           : built.board.empty() ? "the ceiling given by its R alone"
                                                 : built.board;
  if (built.ceiling_assumed) {
    notes.caution("ceiling-assumed", where, {{"board", name}, {"spacing", built.spacing}});
    if (!built.thin_board) wider_spacing(built, name, tables, notes);
  }
  if (!limit) {
    notes.caution("ceiling-limit-unknown", where, {{"board", name}, {"spacing", built.spacing}});
    return;
  }
  notes.use_sources(limit->sources);
  std::optional<MassPerArea> heaviest;
  bool at_least = false;
  for (const TopUp* t : each(result.planned)) {
    if (t->weight_greatest && (!heaviest || *t->weight_greatest > *heaviest))
      heaviest = t->weight_greatest;
    at_least = at_least || t->weight_at_least;
  }
  const bool planned = heaviest.has_value();
  if (!planned)
    heaviest = result.found.existing.weight_greatest;  // nothing is added: what lies there
  const bool removal = !result.found.removals.empty();
  const std::string when =
      planned ? (removal ? "after the removal and the new fill" : "after the work")
              : (removal ? "as it lies now, before the removal" : "as it lies now");
  if (heaviest && !reaches(limit->limit.us(), heaviest->us()))
    notes.caution(at_least ? "ceiling-weight-at-least" : "ceiling-weight", where,
                  {{"when", when},
                   {"weight", *heaviest},
                   {"limit", limit->limit},
                   {"board", name},
                   {"spacing", built.spacing}});
}

void plan_cautions(const BuiltSection& built, const WorkedSection& result, const Blow& blow,
                   Notes& notes) {
  const std::string& where = result.found.name;
  for (const TopUp* t : each(result.planned)) reach_caution(*t, where, notes);
  for (const RemovalResult& r : result.found.removals) {
    notes.caution("removal", where,
                  {{"material", r.material}, {"area", r.area}, {"volume", r.volume}});
    if (r.layers_above) notes.caution("removal-below", where, {{"material", r.material}});
  }
  if (blow.method == Method::laid) return laid_cautions(built, result, blow, notes);
  if (!either(result.planned, &TopUp::adds)) return;
  if (blow.fill.chart)
    for (const TopUp* t : each(result.planned)) {
      const Length least = t->eave        ? t->eave->least_field
                           : t->new_depth ? t->new_depth->least
                                          : Length{};
      if (least > Length{} && least < blow.chart.first_settled())
        notes.caution("chart-below-first-row", where, {{"thickness", least}});
    }
  if (blow.material && blow.material->id == "glass-fiber-loose" && !built.under_deck)
    notes.caution("open-glass-fiber", where);
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    const BuiltLayer& layer = built.layers[i];
    const auto old_density =
        layer.material->density_high;  // batts have no sourced one; they are light
    const bool light = layer.material->form == Form::batt ||
                       (layer.material->form == Form::loose && old_density && blow.fill.density &&
                        *old_density < *blow.fill.density);
    const bool lies_there = greatest_top(built, i) > Length{};
    if (light && lies_there && !layer.comes_out())
      notes.caution("heavy-over-light", where, {{"material", layer.material->name}});
  }
  for (const TopUp* t : each(result.planned)) {
    if (!t->adds() || blow.method == Method::sprayed || built.under_deck ||
        !(built.framing.fraction > 0))
      continue;
    const Length settled =
        *t->initial_level - (t->new_depth_initial->greatest - t->new_depth->greatest);
    if (settled.us() < built.framing.depth.us() - kHair)
      notes.caution("settled-below-joists", where, {{"thickness", settled}});
  }
  const bool at_eaves =
      result.found.kind == SectionKind::flat || result.found.kind == SectionKind::side_attic_floor;
  if (at_eaves && !built.unvented) notes.caution("wind-wash", where);
}

}  // namespace overjoist::parts
