// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/damp.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/moisture.hpp"

// Facings and closed-cell layers of a section against the dew point of the rooms' air (method eq.
// 18a). Only with the survey's winter air.
namespace overjoist::parts {
namespace {

/// Mean R over the spots of the layers below `index`, and of this one too if the plane lies on its
/// top; wet fill counts nothing.
Resistance below(const BuiltSection& built, std::size_t index, bool on_top) {
  const std::size_t end = on_top ? index + 1 : index;
  double r = built.ends.below.us();
  for (const Piece& p : built.pieces)
    for (std::size_t i = 0; i < std::min(end, p.column.count); ++i)
      if (!built.layers[i].counts_nothing() && p.column.thickness[i] > Length{})
        r += p.share * built.layers[i].dry_r(p.column.thickness[i]).us();
  return Resistance::from_us(r);
}

/// True if the layer lies at one spot or more.
bool lies_anywhere(const BuiltSection& built, std::size_t layer) {
  return std::any_of(built.pieces.begin(), built.pieces.end(),
                     [&](const Piece& p) { return p.column.thickness[layer] > Length{}; });
}

MoistureState state_of(const PlaneVerdict& v, Resistance r_below, Resistance total) {
  return {v.plane.f(), r_below / total, v.wet_risk};
}

bool is_wet(const std::optional<MoistureState>& state) { return state && state->wet_risk; }

void dew_point_caution(const MoisturePlane& m, const std::string& where, Notes& notes) {
  notes.caution("dew-point-risk", where, {{"plane", std::string(m.plane) + " of " + m.layer}});
}

/// The lowest tight board that is to be laid at one end of the band; its warm face lies on what is
/// there and on the layers below it.
std::optional<MoistureState> laid_state(const TopUp& t, const WorkedSection& r,
                                        const BuiltSection& built, const WinterAir& air,
                                        MoisturePlane& m) {
  Resistance under = built.ends.below + r.found.existing.working_r;
  for (const LaidLayer& layer : t.batts) {
    if (layer.tight) {
      const Resistance total = std::max(under, built.ends.both() + t.working_r);
      const auto verdict = plane_verdict(air, {under, total, {}});
      m.layer = layer.name;
      m.dew_point_f = verdict->dew_point.f();
      m.safe_share = verdict->safe_share;
      return state_of(*verdict, under, total);
    }
    under = under + layer.label_r;
  }
  return {};
}

}  // namespace

void add_moisture(WorkedSection& r, const BuiltSection& built, const Survey& survey, Notes& notes) {
  if (!survey.winter || !r.found.heated_below || built.pieces.empty() || built.unmeasured) return;
  const WinterSurvey& winter = *survey.winter;
  const WinterAir air{Temperature::from_f(winter.indoor_f), winter.indoor_rh_percent / 100.0,
                      Temperature::from_f(winter.attic_f)};
  for (std::size_t i = 0; i < built.layers.size() && i < built.survey->layers.size(); ++i) {
    const Layer& layer = built.survey->layers[i];
    const bool faced = layer.facing == Facing::kraft || layer.facing == Facing::foil;
    if ((!faced && !built.layers[i].material->tight) || built.layers[i].comes_out() ||
        !lies_anywhere(built, i))
      continue;
    const Resistance under = below(built, i, faced && layer.facing_side == FacingSide::attic);
    MoisturePlane m;
    m.layer = built.layers[i].material->name;
    m.plane = layer.facing == Facing::kraft  ? "kraft facing"
              : layer.facing == Facing::foil ? "foil facing"
                                             : "warm face";
    const auto state = [&](Resistance working) {
      const Resistance total = std::max(under, built.ends.both() + working);
      const auto verdict = plane_verdict(air, {under, total, {}});
      m.dew_point_f = verdict->dew_point.f();
      m.safe_share = verdict->safe_share;
      return state_of(*verdict, under, total);
    };
    m.before = state(r.found.existing.working_r);
    set(m, map(r.planned, [&](const TopUp& t) { return state(t.working_r); }));
    m.survey_layer = i;
    if (either(m, is_wet)) {
      dew_point_caution(m, r.found.name, notes);
      if (faced) notes.caution("facing-off", r.found.name, {{"material", m.layer}});
    }
    r.found.moisture.push_back(std::move(m));
  }
  MoisturePlane laid;
  laid.plane = "warm face";
  set(laid, map(r.planned, [&](const TopUp& t) { return laid_state(t, r, built, air, laid); }));
  if (!either(laid, kKnown)) return;
  if (either(laid, is_wet)) dew_point_caution(laid, r.found.name, notes);
  r.found.moisture.push_back(std::move(laid));
}

namespace {

/// The facing's own plane of `moisture`, or null where the air of winter is not known.
const MoisturePlane* plane_of(const SectionResult& result, std::size_t layer) {
  for (const MoisturePlane& m : result.moisture)
    if (m.survey_layer == layer) return &m;
  return nullptr;
}

/// Boards or the roof lie over the attic side of the section: nothing there is bare.
bool facing_is_covered(const BuiltSection& built) {
  return built.under_deck || built.survey->kind == SectionKind::slope;
}

void facing_caution(const BuiltSection& built, std::size_t i, const MoisturePlane* plane,
                    Notes& notes) {
  const std::string& where = built.survey->name;
  const NamedValue material{"material", built.layers[i].material->name};
  std::size_t below = 0, above = 0;  // layers that lie on either side of this one
  for (std::size_t k = 0; k < built.layers.size(); ++k)
    if (k != i && lies_anywhere(built, k) && !built.layers[k].comes_out())
      ++(k < i ? below : above);
  const bool attic_side = built.survey->layers[i].facing_side == FacingSide::attic;
  const bool bare = attic_side && above == 0, inside = attic_side ? above > 0 : below > 0;
  const bool dry =
      plane && !is_wet(plane->before) && both(*plane, kKnown) && !either(*plane, is_wet);
  const bool covered = bare && facing_is_covered(built);
  if (covered && !dry) notes.caution("facing-under-deck", where, {material});
  if (bare && !covered)
    dry ? notes.caution("facing-bare", where, {material})
        : notes.caution("facing-cold-side", where);
  else if (inside && !plane)
    notes.caution("buried-facing", where, {material});
}

}  // namespace

void facing_cautions(const BuiltSection& built, const SectionResult& result, Notes& notes) {
  for (std::size_t i = 0; i < built.layers.size() && i < built.survey->layers.size(); ++i)
    if (is_faced(built.survey->layers[i]) && !built.layers[i].comes_out() &&
        lies_anywhere(built, i))
      facing_caution(built, i, plane_of(result, i), notes);
}

}  // namespace overjoist::parts
