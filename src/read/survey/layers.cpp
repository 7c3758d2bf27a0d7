// SPDX-License-Identifier: MIT
#include <optional>
#include <string>

#include "overjoist/assembly.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// A layer: its keys, and what it says of itself beside its material, which is used where it means
// something for that material, else refused.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr std::string_view kGrades[] = {"grade-2", "grade-3"};
constexpr double kGradeShares[] = {0.02, 0.05};  // model 16

void set_void_share(Reader& r, Layer& layer, Scalar& v) {
  if (v.kind == kNumber) {
    if (const auto share = r.quantity(v, number, from(0, 0.5), "void_share"))
      layer.void_share = *share;
  } else if (const auto grade = r.word(*v.text, kGrades, "void_share")) {
    layer.void_share = kGradeShares[*grade];
  }
}
void finish_layer(Reader& r, Layer& layer, const Seen& seen) {
  if (!layer.void_share) return;
  if (!seen.has("condition"))
    layer.condition = Condition::voids;
  else if (layer.condition != Condition::voids)
    r.fault_of("void_share", make_fault<F::void_share_without_voids>());
}
constexpr auto kLayerFields = fields_of<Layer>({
    text_field<&Layer::material>("material", kIdText, true),
    quantity_field<&Layer::thickness>("thickness_in", length, kThickness),
    quantity_field<&Layer::label_r>("label_r", resistance, kPositiveR),
    quantity_field<&Layer::label_thickness>("label_thickness_in", length, kThickness),
    word_field<&Layer::lies>("lies", kWords<Lies>),
    word_field<&Layer::facing>("facing", kWords<Facing>),
    word_field<&Layer::facing_side>("facing_side", kWords<FacingSide>),
    word_field<&Layer::condition>("condition", kWords<Condition>),
    set_by<set_void_share>({.key = "void_share", .kinds = kNumber | kText}),
});

/// A label is an R at a thickness: a board lies as thick as its label says, the depth of a loose
/// fill is not that of its label.
void check_label(Reader& r, const Layer& layer, const Material& m, const std::string& at) {
  const bool loose = m.form == Form::loose;
  const std::optional<Length> lies = layer.thickness ? layer.thickness : m.thickness;
  const std::optional<Length> printed = layer.label_thickness ? layer.label_thickness
                                        : loose               ? std::nullopt
                                                              : lies;
  if (layer.label_thickness && !layer.label_r)
    return r.fault_at(at + "/label_thickness_in", make_fault<F::label_without_r>(m.id));
  if (!layer.label_r) return;
  if (!printed)
    return r.fault_at(at + "/label_r", loose ? make_fault<F::label_of_loose_fill>(m.id)
                                             : make_fault<F::label_without_thickness>(m.id));
  const double per_inch = layer.label_r->us() / printed->us();
  if (per_inch > kPerInch.high)
    r.fault_at(at + "/label_r", make_fault<F::label_r_per_inch>(layer.label_r->us(), printed->us(),
                                                                per_inch, kPerInch.high));
}

}  // namespace

constinit const Shape<Layer> kLayerShape{kLayerFields, finish_by<finish_layer>()};

void check_layer_words(Reader& r, const Layer& layer, const Material& m, const std::string& at) {
  if (m.form == Form::batt) return;
  check_label(r, layer, m, at);
  if (m.form != Form::loose) return;
  if (layer.lies == Lies::across)  // between is how it is counted
    r.fault_at(at + "/lies", make_fault<F::loose_across>(m.id));
  if (layer.facing != Facing::none)
    r.fault_at(at + "/facing", make_fault<F::facing_of_loose>(m.id));
  if (layer.facing_side) r.fault_at(at + "/facing_side", make_fault<F::facing_side_of_loose>(m.id));
}

void check_batt_print(Reader& r, Resistance label_r, Length thickness, const std::string& at) {
  const double ratio = thickness.us() / label_r.us();
  if (ratio <= kBattConstant)
    r.fault_at(at, make_fault<F::batt_print>(label_r.us(), thickness.us(), ratio, kBattConstant));
}

void check_batt(Reader& r, const Layer& layer, const Material& m, const std::string& at) {
  const auto thickness = layer.label_thickness ? layer.label_thickness : layer.thickness;
  if (!layer.label_r && !thickness)
    return r.fault_at(at, make_fault<F::batt_without_label>(m.name));
  if (!m.central() && !(layer.label_r && thickness))
    return r.fault_at(at, make_fault<F::batt_r_unknown>(m.id));
  if (layer.label_r && thickness) check_batt_print(r, *layer.label_r, *thickness, at);
}

void check_added(Reader& r, const SurveyBuild& build, const Layer& add, const std::string& at) {
  const Material* m = known_material(r, build, add.material, at + "/material", Place::layer);
  if (!m) return;
  check_layer_words(r, add, *m, at);
  if (add.lies == Lies::across) r.fault_at(at + "/lies", make_fault<F::added_across>());
  if (m->existing_only || build.tables->hands_off(*m))
    r.fault_at(at + "/material", make_fault<F::added_existing>(m->id));
  else if (m->form == Form::batt)
    check_batt(r, add, *m, at);
  else if (!m->central() && !(m->resistance && m->thickness))
    r.fault_at(at + "/material", make_fault<F::no_r_per_inch>(m->id));
  else if (m->form != Form::loose && !add.thickness && !m->thickness)
    r.fault_at(at, make_fault<F::added_without_thickness>(m->name));
  if (add.condition != Condition::sound) r.fault_at(at, make_fault<F::added_condition>());
}

}  // namespace overjoist::io
