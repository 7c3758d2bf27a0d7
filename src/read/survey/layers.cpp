// SPDX-License-Identifier: MIT
#include <fmt/core.h>
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
    r.fault_of("void_share", "void_share is given, but the condition is not voids",
               "write \"condition\": \"voids\", or leave void_share out");
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
    return r.fault_at(
        at + "/label_thickness_in",
        fmt::format("label_thickness_in of {} says nothing without its label_r", m.id),
        "give label_r with it, or leave it out; how thick the layer lies is thickness_in");
  if (!layer.label_r) return;
  if (!printed)
    return r.fault_at(
        at + "/label_r",
        fmt::format("label_r of {} says nothing without the thickness that it is printed for",
                    m.id),
        loose ? "give label_thickness_in, the settled thickness beside that R on the label, or "
                "leave label_r out; a batt "
                "is another material, such as glass-fiber-batt"
              : "give thickness_in, or label_thickness_in");
  const double per_inch = layer.label_r->us() / printed->us();
  if (per_inch > kPerInch.high)
    r.fault_at(at + "/label_r",
               fmt::format("R-{:g} in {:g} in. is R-{:.1f} per inch; allowed: up to {:g}",
                           layer.label_r->us(), printed->us(), per_inch, kPerInch.high),
               "check label_r and its thickness");
}

}  // namespace

constinit const Shape<Layer> kLayerShape{kLayerFields, finish_by<finish_layer>()};

void check_layer_words(Reader& r, const Layer& layer, const Material& m, const std::string& at) {
  if (m.form == Form::batt) return;
  check_label(r, layer, m, at);
  if (m.form != Form::loose) return;
  if (layer.lies == Lies::across)  // between is how it is counted
    r.fault_at(
        at + "/lies",
        fmt::format(
            "{} is loose: it does not lie across the joists, it fills the bays and lies over them",
            m.id),
        "leave lies out; across is for batts and boards");
  if (layer.facing != Facing::none)
    r.fault_at(at + "/facing", fmt::format("{} is loose and has no facing", m.id),
               "give the facing to the batt or board that carries it, or leave it out; paper or "
               "film on the ceiling is the retarder "
               "under ventilation");
  if (layer.facing_side)
    r.fault_at(at + "/facing_side", fmt::format("{} is loose and has no facing", m.id),
               "leave facing_side out");
}

void check_batt_print(Reader& r, Resistance label_r, Length thickness, const std::string& at) {
  const double ratio = thickness.us() / label_r.us();
  if (ratio <= kBattConstant)
    r.fault_at(at,
               fmt::format("R-{:g} in {:g} in. is {:.3f} in. per R; allowed for a batt: above {:g}",
                           label_r.us(), thickness.us(), ratio, kBattConstant),
               "check label_r and label_thickness_in; a board is not a batt");
}

void check_batt(Reader& r, const Layer& layer, const Material& m, const std::string& at) {
  const auto thickness = layer.label_thickness ? layer.label_thickness : layer.thickness;
  if (!layer.label_r && !thickness)
    return r.fault_at(at, fmt::format("label_r of the {} is missing", m.name),
                      "give label_r and label_thickness_in from its print, or thickness_in");
  if (!m.central() && !(layer.label_r && thickness))
    return r.fault_at(at, fmt::format("no R per inch is known for {}", m.id),
                      "give label_r and label_thickness_in");
  if (layer.label_r && thickness) check_batt_print(r, *layer.label_r, *thickness, at);
}

void check_added(Reader& r, const SurveyBuild& build, const Layer& add, const std::string& at) {
  const Material* m = known_material(r, build, add.material, at + "/material", Place::layer);
  if (!m) return;
  check_layer_words(r, add, *m, at);
  if (add.lies == Lies::across)
    r.fault_at(at + "/lies", "what is put in lies between the wood",
               "leave lies out; a board across the wood is continuous_r");
  if (m->existing_only || build.tables->hands_off(*m))
    r.fault_at(at + "/material", fmt::format("{} is found in attics, it is not put in", m->id),
               "name a material that is sold");
  else if (m->form == Form::batt)
    check_batt(r, add, *m, at);
  else if (!m->central() && !(m->resistance && m->thickness))
    r.fault_at(at + "/material", fmt::format("no R per inch is known for {}", m->id),
               "define it under materials");
  else if (m->form != Form::loose && !add.thickness && !m->thickness)
    r.fault_at(at, fmt::format("thickness_in of the {} is missing", m->name),
               "only loose fill takes the room that is left");
  if (add.condition != Condition::sound)
    r.fault_at(at, "what is put in is sound; another condition is for what lies there",
               "leave condition out");
}

}  // namespace overjoist::io
