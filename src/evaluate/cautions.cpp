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
    5;  // t interval of fewer says little (reference table of t quantiles)
constexpr double kScattered = 0.25;  // coefficient of variation of depth
constexpr double kRatioLow = 0.262,
                 kRatioHigh = 0.333;  // L0/R0 of the batts behind the squeezed-batt law

template <class F>
double share_where(const std::vector<Piece>& pieces, F holds) {
  double share = 0.0;
  for (const Piece& p : pieces) share += holds(p) ? p.share : 0.0;
  return share;
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
