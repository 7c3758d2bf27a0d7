// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate_parts.hpp"

// Slopes and knee walls (method eq. 10b): what is sound stays, and the room that is left takes what fits.
namespace overjoist::parts {
namespace {

/// What goes in where the survey does not say: dense pack into a slope, a batt of the wall's depth into a wall.
Layer usual_fill(const BuiltSection& built, Notes& notes) {
  Layer layer;
  if (built.survey->kind == SectionKind::slope) {
    layer.material = "cellulose-dense";
  } else {
    layer.material = "glass-fiber-batt";
    layer.thickness = layer.label_thickness = fitting_room(built);
  }
  notes.assume("cavity-fill", built.survey->name, {{"value", layer.material}});
  return layer;
}

/// The layers that stay, each as thick as it lies.
std::vector<BuiltLayer> kept_layers(const BuiltSection& built) {
  std::vector<BuiltLayer> kept;
  const Column& column = built.pieces.front().column;  // voids: the first piece has every layer
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    if (built.layers[i].comes_out() || !(column.thickness[i] > Length{})) continue;
    kept.push_back(built.layers[i]);
    kept.back().thickness = column.thickness[i];
    kept.back().takes_rest = false;
  }
  return kept;
}

/// Thickness at which a layer lies in `room`; 0 where it does not fit: boards do not compress, a batt not below half its label thickness.
Length fitting(const BuiltLayer& layer, Length room) {
  if (layer.batt)
    return reaches(room.us(), (layer.label_thickness * kLeastSqueeze).us()) ? std::min(layer.label_thickness, room) : Length{};
  if (layer.takes_rest) return room;
  return reaches(room.us(), layer.thickness.us()) ? layer.thickness : layer.board ? Length{} : room;
}

Length sum_of(const std::vector<BuiltLayer>& layers) {
  Length sum;
  for (const BuiltLayer& layer : layers) sum += layer.thickness;
  return sum;
}

/// Fills what the crew must know of the layer that comes in.
void describe(CavityResult& c, const BuiltLayer& layer, const BuiltSection& built) {
  c.material = layer.material->name;
  c.added = layer.thickness;
  c.density = layer.material->density_high;
  if (!c.density) return;
  c.added_weight = *c.density * c.added;
  c.added_mass = *c.added_weight * (built.survey->area * (1.0 - built.framing.fraction));
}

void cavity_cautions(const BuiltSection& built, const CavityResult& c, bool blown, Notes& notes) {
  const Section& s = *built.survey;
  if (s.kind == SectionKind::knee_wall) {
    notes.caution("knee-wall-bays", s.name);
    if (!s.deck) notes.caution("knee-wall-open", s.name);
  } else if (!(built.vent_gap > Length{})) {
    notes.caution("slope-unvented", s.name);
  }
  if (blown && c.added > Length{}) notes.caution("dense-pack", s.name);
}

}  // namespace

std::optional<BuiltSection> plan_cavity(SectionResult& result, const BuiltSection& built, const Survey& survey, const Tables& tables,
                                        Notes& notes) {
  const Section& s = *built.survey;
  CavityResult c;
  c.room = fitting_room(built);
  std::vector<BuiltLayer> layers = kept_layers(built);
  c.kept = sum_of(layers);
  for (TopUpResult* t : {&result.low, &result.high}) {
    const Resistance found = t->basis == Basis::working ? t->working_r : t->effective_r;
    t->status = reaches(found.us(), t->target_r.us()) && result.removals.empty() ? TopUpStatus::met : TopUpStatus::unreachable;
  }
  const bool met = result.low.status == TopUpStatus::met && result.high.status == TopUpStatus::met;
  bool blown = false;
  if (!met) {
    BuiltLayer add = build_layer(s.add ? *s.add : usual_fill(built, notes), survey, tables, s.name, notes);
    add.thickness = fitting(add, c.room - c.kept);
    add.takes_rest = false;
    blown = add.material->form == Form::loose;
    if (add.thickness > Length{}) {
      describe(c, add, built);
      layers.push_back(add);
    }
    c.continuous_r = s.continuous_r.value_or(Resistance{});
    if (!survey.proposal || !covered(*survey.proposal, s.name)) notes.assume("cavity-not-priced", s.name);
  }
  cavity_cautions(built, c, blown, notes);
  result.cavity = c;
  if (met) return {};
  BuiltSection after = with_layers(built, std::move(layers), c.continuous_r);
  const ExistingResult then = existing_result(after);
  for (TopUpResult* t : {&result.low, &result.high}) {
    if (t->status == TopUpStatus::met) continue;
    t->working_r = then.working_r + c.continuous_r;
    t->effective_r = then.effective_r;
    const Resistance value = t->basis == Basis::working ? t->working_r : t->effective_r;
    if (reaches(value.us(), t->target_r.us()))
      t->status = TopUpStatus::needed;
    else
      t->limited_by = LimitedBy::cavity;
    if (t->target_r > value) (t == &result.high ? result.cavity->short_by : result.cavity->short_by_low) = t->target_r - value;
  }
  return after;
}

}  // namespace overjoist::parts
