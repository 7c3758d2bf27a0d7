// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/cautions.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/spoiled.hpp"
#include "evaluate/worked.hpp"

namespace overjoist::parts {
namespace {

// Thresholds of ours, below which a caution would only be noise.
constexpr std::size_t kFewReadings =
    5;                          // t interval of fewer says little (reference table of t quantiles)
constexpr double kHair = 1e-9;  // inches: rounding noise
constexpr double kScattered = 0.25;  // coefficient of variation of depth
constexpr double kRatioLow = 0.262,
                 kRatioHigh = 0.333;  // L0/R0 of the batts behind the squeezed-batt law

template <class F>
double share_where(const std::vector<Piece>& pieces, F holds) {
  double share = 0.0;
  for (const Piece& p : pieces) share += holds(p) ? p.share : 0.0;
  return share;
}

/// Greatest height of a layer's upper face over the spots where it lies.
Length greatest_top(const BuiltSection& built, std::size_t layer) {
  Length top;
  for (const Piece& p : built.pieces) {
    if (!(p.column.thickness[layer] > Length{})) continue;
    Length z;
    for (std::size_t k = 0; k <= layer; ++k) z += p.column.thickness[k];
    top = std::max(top, z);
  }
  return top;
}

/// True if a layer with voids is missing here: a share of a spot, not a spot.
bool in_a_void(const BuiltSection& built, const Piece& p) {
  for (std::size_t i = 0; i < p.column.count; ++i)
    if (built.layers[i].void_share > 0 && !(p.column.thickness[i] > Length{}) && p.depth > Length{})
      return true;
  return false;
}

}  // namespace

void squeezed_cautions(const std::string& where, const BuiltLayer& layer, Length thinnest,
                       Notes& notes) {
  const std::string& name = layer.material->name;
  const Resistance r = layer.dry_r(thinnest);
  notes.caution("squeezed-batt", where,
                {{"material", name},
                 {"label_thickness", layer.label_thickness},
                 {"thickness", thinnest},
                 {"r", r}});
  if (reaches(thinnest.us(), layer.label_thickness.us() * kHalfLabel)) return;
  notes.caution(
      "batt-below-half", where,
      {{"material", name},
       {"thickness", thinnest},
       {"r", r},
       {"low", squeezed_batt_r(layer.label_r, layer.label_thickness, thinnest, BattSide::low)}});
}

namespace {

void batt_cautions(const BuiltSection& built, std::size_t i, Notes& notes) {
  const BuiltLayer& layer = built.layers[i];
  const std::string& where = built.survey->name;
  const std::string& name = layer.material->name;
  Length thinnest = layer.label_thickness;
  const double missing = share_where(built.pieces, [&](const Piece& p) {
    return p.column.missing > 0 && p.depth > Length{} && !(p.column.thickness[i] > Length{});
  });
  for (const Piece& p : built.pieces)
    if (p.column.thickness[i] > Length{}) thinnest = std::min(thinnest, p.column.thickness[i]);
  if (layer.squeezed_at(thinnest)) squeezed_cautions(where, layer, thinnest, notes);
  if (missing > 0)
    notes.caution("batt-missing", where, {{"material", name}, {"share", missing * 100.0}});
  const double ratio = layer.label_thickness.us() / layer.label_r.us();
  if (ratio < kRatioLow - 5e-4 ||
      ratio > kRatioHigh + 5e-4)  // the range is printed to three decimals
    notes.caution("label-ratio", where,
                  {{"material", name}, {"thickness", layer.label_thickness}, {"r", layer.label_r}});
  if (layer.lies != Lies::between || !(built.framing.fraction > 0) || built.under_deck) return;
  const Length top = greatest_top(built, i);
  if (top.us() > built.framing.depth.us() + kHair)
    notes.caution("batt-thicker-than-joist", where,
                  {{"material", name}, {"thickness", top}, {"joist", built.framing.depth}});
}

void gap_cautions(const BuiltSection& built, Notes& notes) {
  const std::string& where = built.survey->name;
  const Length top = built.framing.depth;
  Length gap;
  bool across = false;
  for (const Piece& p : built.pieces) {
    if (in_a_void(built, p)) continue;
    Length below;
    for (std::size_t i = 0; i < p.column.count; ++i) {
      if (built.layers[i].lies == Lies::across && p.column.thickness[i] > Length{}) {
        across = true;
        gap = std::max(gap, top - below);
      }
      below += p.column.thickness[i];
    }
    if (built.under_deck) gap = std::max(gap, top - below);
  }
  if (!(gap.us() > 1e-9)) return;
  if (built.under_deck)
    notes.caution("gap-below-deck", where, {{"gap", gap}});
  else if (across)
    notes.caution("gap-below-batt", where, {{"gap", gap}});
}

void reading_cautions(const BuiltSection& built, Notes& notes) {
  const Section& s = *built.survey;
  if (!is_floor(s.kind)) return;
  const bool bare =
      built.layers.empty() && !s.readings.empty();  // nothing lies there that could be uneven
  if (s.readings.size() < kFewReadings && !bare)
    notes.caution("few-readings", s.name, {{"count", static_cast<double>(s.readings.size())}});
  const double mean = mean_depth(built.spots).us();
  double variance = 0.0;
  for (const Spot& spot : built.spots)
    variance += spot.share * (spot.depth.us() - mean) * (spot.depth.us() - mean);
  if (mean > 0 && std::sqrt(variance) > kScattered * mean)
    notes.caution("scattered-readings", s.name,
                  {{"least", built.spots.front().depth}, {"greatest", built.spots.back().depth}});
}

void layer_cautions(const BuiltSection& built, std::size_t i, const Tables& tables, Notes& notes) {
  const Section& s = *built.survey;
  const Layer& layer = s.layers[i];
  const Material& m = *built.layers[i].material;
  if (const std::string_view code = tables.caution_of(m); !code.empty())
    notes.caution(code, s.name);
  if (m.id == "unknown-loose") notes.caution("unknown-fill", s.name, {{"material", m.name}});
  if (built.layers[i].spoiled()) notes.caution("soiled-insulation", s.name);
  const bool stays = !built.layers[i].comes_out();
  if (stays && layer.facing == Facing::unknown)
    notes.caution("facing-unknown", s.name, {{"material", m.name}});
  if (stays && is_faced(layer) && !layer.facing_side)
    notes.assume("facing-side", s.name, {{"material", m.name}});
  if (stays && is_foam(m)) notes.caution("foam-found", s.name, {{"material", m.name}});
  // What comes out is not weighed: nothing of it will rest on the ceiling.
  const bool on_ceiling =
      is_floor(s.kind) || s.kind == SectionKind::slope;  // a knee wall's fill rests on no ceiling
  if (stays && on_ceiling && !built.weight && !m.density_high)
    notes.caution("existing-weight-unknown", s.name, {{"material", m.name}});
  if (built.layers[i].batt) batt_cautions(built, i, notes);
  const bool light_glass =
      m.id == "glass-fiber-loose" && i + 1 == built.layers.size() && !built.under_deck;
  if (light_glass) notes.caution("open-glass-fiber", s.name);
}

}  // namespace

void section_cautions(const BuiltSection& built, const Tables& tables, Notes& notes) {
  const Section& s = *built.survey;
  for (std::size_t i = 0; i < built.layers.size(); ++i) layer_cautions(built, i, tables, notes);
  if (is_floor(s.kind) && !built.unmeasured) gap_cautions(built, notes);
  reading_cautions(built, notes);
  Length excess;
  for (const Piece& p : built.pieces)
    if (p.column.excess &&
        p.depth.us() > surface_of(built.layers, p.column, built.framing.depth).us() + 1e-9)
      excess = std::max(excess, p.depth);
  if (excess > Length{}) notes.caution("reading-above-layers", s.name, {{"depth", excess}});
  if (built.framing.fraction > 0 && !built.under_deck && is_floor(s.kind)) {
    const double proud = share_where(built.pieces, [&](const Piece& p) {
      return p.column.fill().us() < built.framing.depth.us() - 1e-9;
    });
    if (proud > 0) notes.caution("exposed-joists", s.name, {{"share", proud * 100.0}});
  }
  if (s.kind == SectionKind::decked) notes.caution("storage-deck", s.name);
  if (s.kind == SectionKind::dropped_soffit) notes.caution("dropped-soffit", s.name);
  if (s.kind == SectionKind::pull_down_stair) notes.caution("stair-box", s.name);
  if (s.joists && s.joists->member == Member::truss_chord) notes.caution("truss-webs", s.name);
  if (s.below == Below::unheated) notes.caution("unheated-below", s.name);
  const bool loose = std::any_of(built.layers.begin(), built.layers.end(), [](const BuiltLayer& l) {
    return l.material->form == Form::loose;
  });
  if ((s.kind == SectionKind::flat || s.kind == SectionKind::side_attic_floor) && loose &&
      !built.unvented)
    notes.caution("wind-wash", s.name);
}

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
  for (const TopUp* t : {&result.planned.low, &result.planned.high}) {
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
  reach_caution(result.planned.low, where, notes);
  reach_caution(result.planned.high, where, notes);
  for (const RemovalResult& r : result.found.removals) {
    notes.caution("removal", where,
                  {{"material", r.material}, {"area", r.area}, {"volume", r.volume}});
    if (r.layers_above) notes.caution("removal-below", where, {{"material", r.material}});
  }
  if (blow.method == Method::laid) return laid_cautions(built, result, blow, notes);
  if (!result.planned.low.adds() && !result.planned.high.adds()) return;
  if (blow.fill.chart)
    for (const TopUp* t : {&result.planned.low, &result.planned.high}) {
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
  for (const TopUp* t : {&result.planned.low, &result.planned.high}) {
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

void attic_cautions(const Job& job) {
  for (const Hazard& hazard : job.survey.hazards) job.notes.hazard(hazard, job.survey);
  spoiled_place_cautions(job);
  if (job.survey.site.year_built && *job.survey.site.year_built < 1978)
    job.notes.caution("lead-paint", "attic");  // renovation rule, 40 CFR 745 (from memory)
}

void keep_hands_off(Evaluation& e, Notes& notes) {
  e.hands_off = notes.hands_off();
  if (!e.hands_off) return;
  notes.caution("hands-off", "attic");
  for (SectionResult& s : e.sections) {
    s.existing.readings_needed.reset();
    s.existing.readings_more.reset();
    s.existing.measure_bare = false;
  }
}

}  // namespace overjoist::parts
