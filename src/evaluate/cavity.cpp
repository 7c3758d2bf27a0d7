// SPDX-License-Identifier: MIT
#include <algorithm>

#include "evaluate/cautions.hpp"
#include "evaluate/cavity.hpp"
#include "evaluate/costs.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"

// Slopes and knee walls (method eq. 10b): what is sound stays, and the room that is left takes what
// fits.
namespace overjoist::parts {
namespace {

/// The row of the same family with another last word: cellulose-loose -> cellulose-dense.
const Material* of_family(const Survey& survey, const Tables& tables, const std::string& id,
                          const char* last) {
  const std::size_t hyphen = id.rfind('-');
  return survey.material(
      tables, (hyphen == std::string::npos ? std::string() : id.substr(0, hyphen + 1)) + last);
}

/// The proposal's material; of a list of batts that of the first. "" where only a product without a
/// material is named.
std::string proposed(const Survey& survey) {
  if (!survey.proposal) return "cellulose-loose";
  const Proposal& p = *survey.proposal;
  return p.batts.empty() ? p.material : p.batts.front().material;
}

Layer sized(const std::string& id, Length thickness) {
  Layer layer;
  layer.material = id;
  layer.thickness = layer.label_thickness = thickness;
  return layer;
}

/// What goes into a slope where the survey does not say: the proposal's material as dense pack,
/// foam or batt; empty where it is none of them.
std::optional<Layer> slope_fill(const Survey& survey, const Tables& tables, const std::string& id,
                                Length room) {
  const Material* m = survey.material(tables, id);
  if (!m) return {};
  if (m->form == Form::batt) return sized(id, room);
  Layer layer;
  layer.material = id;
  if (m->form == Form::spray) {
    layer.thickness = room;
    return layer;
  }
  const Material* dense = m->form == Form::loose ? of_family(survey, tables, id, "dense") : nullptr;
  if (!dense || dense->form != Form::loose) return {};
  layer.material = dense->id;
  return layer;
}

/// What goes into a wall where the survey does not say: a batt of the room that is left, of the
/// proposal's family where there is one.
Layer wall_fill(const Survey& survey, const Tables& tables, const std::string& id, Length room) {
  const Material* m = survey.material(tables, id);
  const Material* batt = m && m->form == Form::batt ? m : of_family(survey, tables, id, "batt");
  return sized(batt && batt->form == Form::batt && batt->central() ? batt->id : "glass-fiber-batt",
               room);
}

/// What goes into the room that is left where the survey does not say; empty where the proposal has
/// nothing for it.
std::optional<Layer> usual_fill(const BuiltSection& built, const Job& job, Length room) {
  const std::string id = proposed(job.survey);
  std::optional<Layer> layer = built.survey->kind == SectionKind::slope
                                   ? slope_fill(job.survey, job.tables, id, room)
                                   : std::optional(wall_fill(job.survey, job.tables, id, room));
  if (layer)
    job.notes.assume("cavity-fill", built.survey->name, {{"value", layer->material}});
  else
    job.notes.assume("cavity-no-fill", built.survey->name);
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

/// Thickness at which a layer lies in `room`: loose fill, foam and batts take less where it is
/// less, a board does not fit then.
Length fitting(const BuiltLayer& layer, Length room) {
  if (layer.takes_rest) return room;
  const bool gives_way = !layer.board || layer.material->form == Form::spray;
  return reaches(room.us(), layer.thickness.us()) ? layer.thickness : gives_way ? room : Length{};
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

/// A batt that is pressed in, and a facing that would end up on the wrong side.
void added_cautions(const BuiltSection& built, const CavityResult& c, const BuiltLayer& add,
                    Notes& notes) {
  const Section& s = *built.survey;
  if (add.squeezed_at(add.thickness)) squeezed_cautions(s.name, add, add.thickness, notes);
  if (s.kind == SectionKind::slope && !c.density)
    notes.caution("cavity-weight-unknown", s.name, {{"material", c.material}});
  if (!s.add) return;
  const bool faced = s.add->facing == Facing::kraft || s.add->facing == Facing::foil ||
                     s.add->facing_side.has_value();
  if (faced && s.add->facing_side == FacingSide::attic)
    s.kind == SectionKind::slope || built.under_deck
        ? notes.caution("facing-under-deck", s.name, {{"material", c.material}})
        : notes.caution("facing-cold-side", s.name);
  else if (faced && c.kept > Length{})
    notes.caution("buried-facing", s.name, {{"material", c.material}});
  if (faced && !s.add->facing_side) notes.assume("facing-side", s.name, {{"material", c.material}});
}

/// A closed bay is packed: fill that is blown open slumps in it, and takes half the weight. So a
/// loose fill of the stock tables is taken as the dense row of its family.
Layer packed(Layer layer, const std::string& where, const Job& job) {
  const Material* m = job.survey.material(job.tables, layer.material);
  if (!m || m->form != Form::loose || layer.label_r || m->id.find("-dense") != std::string::npos)
    return layer;
  const Material* dense = of_family(job.survey, job.tables, m->id, "dense");
  if (!dense || dense->form != Form::loose) return layer;
  job.notes.assume("cavity-dense", where, {{"value", dense->name}});
  layer.material = dense->id;
  return layer;
}

/// Puts what fits into the room that is left.  @returns true where it is blown
bool put_in(CavityResult& c, std::vector<BuiltLayer>& layers, const BuiltSection& built,
            const Job& job) {
  const Section& s = *built.survey;
  const Length room = c.room - c.kept;
  if (reaches(0.0, room.us())) {
    c.stop = CavityStop::full;
    return false;
  }
  const std::optional<Layer> layer =
      s.add ? packed(*s.add, s.name, job) : usual_fill(built, job, room);
  if (!layer) {
    c.stop = CavityStop::not_named;
    return false;
  }
  BuiltLayer add = build_layer(*layer, job, s.name, Lain::added);
  add.thickness = fitting(add, room);
  add.takes_rest = false;
  add.comes_in = true;
  if (!(add.thickness > Length{})) {
    c.stop = CavityStop::does_not_fit;
    return false;
  }
  describe(c, add, built);
  added_cautions(built, c, add, job.notes);
  if (is_foam(*add.material))
    job.notes.caution("spray-foam", s.name, {{"material", add.material->name}});
  if (add.material->form == Form::board) job.notes.caution("foam-board-cover", s.name);
  layers.push_back(add);
  return add.material->form == Form::loose;
}

/// How an end of the band stands after the work.
void settle(TopUp& t, const ExistingResult& then, const CavityResult& c) {
  if (t.status == TopUpStatus::met) return;
  t.working_r = then.working_r + c.continuous_r;
  t.effective_r = then.effective_r;
  const Resistance value = t.after();
  if (reaches(value.us(), t.target_r.us())) {
    t.status = TopUpStatus::needed;
    return;
  }
  t.limited_by =
      reaches((c.kept + c.added).us(), c.room.us()) ? LimitedBy::cavity : LimitedBy::fill;
  t.short_by = t.target_r - value;
}

}  // namespace

std::optional<BuiltSection> plan_cavity(WorkedSection& result, const BuiltSection& built,
                                        const Job& job) {
  const Section& s = *built.survey;
  CavityResult c;
  c.room = fitting_room(built);
  std::vector<BuiltLayer> layers = kept_layers(built);
  c.kept = sum_of(layers);
  for (TopUp* t : each(result.planned)) {
    t->status = reaches(t->after().us(), t->target_r.us()) && result.found.removals.empty()
                    ? TopUpStatus::met
                    : TopUpStatus::unreachable;
  }
  const bool met =
      both(result.planned, [](const TopUp& t) { return t.status == TopUpStatus::met; });
  bool blown = false;
  if (!met) {
    blown = put_in(c, layers, built, job);
    c.continuous_r = s.continuous_r.value_or(Resistance{});
    const bool added = c.added > Length{} || c.continuous_r > Resistance{};
    if (added && (!job.survey.proposal || !covered(*job.survey.proposal, s.name)))
      job.notes.assume("cavity-not-priced", s.name);
  }
  cavity_cautions(built, c, blown, job.notes);
  result.found.cavity = c;
  if (met) return {};
  BuiltSection after = with_layers(built, std::move(layers), c.continuous_r);
  const ExistingResult then = existing_result(after);
  for (TopUp* t : each(result.planned)) settle(*t, then, c);
  return after;
}

void weigh_cavity(WorkedSection& result, const BuiltSection& after, const CeilingLimit* limit) {
  if (result.found.kind != SectionKind::slope || !result.found.cavity ||
      !(result.found.cavity->added > Length{}))
    return;
  MassPerArea known;
  bool all = true;
  for (const BuiltLayer& layer : after.layers) {
    all = all && layer.material->density_high;
    known += layer.material->density_high.value_or(Density{}) * layer.thickness;
  }
  for (TopUp* t : each(result.planned)) {
    if (t->status == TopUpStatus::met) continue;
    if (limit) t->weight_limit = limit->limit;
    if (!(known > MassPerArea{})) continue;
    t->weight = t->weight_greatest = known;
    t->weight_at_least = !all;
  }
}

}  // namespace overjoist::parts
