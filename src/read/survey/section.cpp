// SPDX-License-Identifier: MIT
#include <fmt/core.h>

#include "overjoist/framing.hpp"
#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The keys of one section of a survey; the whole is in survey_json.cpp.
namespace overjoist::io {
namespace {

using Words = std::string_view;
using enum Dimension;

// Ceiling, deck, films, joists

constexpr Bounds kBoardR = from(0, 100), kPartR = from(0, 200);

void need_material_or_r(Reader& r, const Board&, const Seen& seen) {
  if (!seen.has("material") && !seen.has("r"))
    r.fault("material or r is missing", "name a material of the table, or give r");
}
constexpr auto kBoardFields = fields_of<Board>({
    text_field<&Board::material>("material", kIdText),
    quantity_field<&Board::thickness>("thickness_in", length, from(0.01, 24)),
    quantity_field<&Board::r>("r", resistance, kBoardR),
});
constexpr Shape<Board> kBoard{kBoardFields, finish_by<need_material_or_r>};

/// A ceiling or deck given as a material or as a number, its R.
template <auto M>
void set_board(Reader& r, OwnerOf<M>& object, Scalar& v) {
  Board& board = (object.*M).emplace();
  if (v.kind == kText)
    board.material = std::move(*v.text);
  else if (const auto value = r.quantity(v, resistance, kBoardR, "r"))
    board.r = r_value(*value);
}
template <auto M>
constexpr Field<OwnerOf<M>> board_field(std::string_view key) {
  return or_object<M>(set_by<set_board<M>>({.key = key, .kinds = kNumber | kText}), kBoard);
}

constexpr auto kFilmFields = fields_of<Section>({
    quantity_field<&Section::film_inside>("inside_r", resistance, from(0, 10)),
    quantity_field<&Section::film_attic>("attic_r", resistance, from(0, 10)),
});
constexpr Shape<Section> kFilms{kFilmFields};

void set_size(Reader& r, Joists& joists, Scalar& v) {
  if (actual_size(*v.text))
    joists.size = std::move(*v.text);
  else
    r.fault(fmt::format("size {} is not a nominal lumber size in use; allowed: 2x4, 2x6, 2x8, "
                        "2x10, 2x12, also 3x and 4x",
                        r.token()),
            "for an actual size give width_in and depth_in");
}
void finish_joists(Reader& r, const Joists&, const Seen& seen) {
  const bool width = seen.has("width_in"), depth = seen.has("depth_in");
  if (seen.has("size") && (width || depth))
    r.fault("the joist size is given in more than one way", "give size, or width_in and depth_in");
  else if (width != depth)
    r.fault(width ? "depth_in is missing" : "width_in is missing",
            "width_in and depth_in go together");
}
constexpr auto kJoistFields = fields_of<Joists>({
    set_by<set_size>({.key = "size", .kinds = kText}),
    quantity_field<&Joists::width>("width_in", length, from(0.01, 12)),
    quantity_field<&Joists::depth>("depth_in", length, from(0.1, 24)),
    quantity_field<&Joists::spacing>("spacing_in", length, from(1, 120)),
    number_field<&Joists::framing_fraction>("framing_fraction", from(0, 0.5)),
    word_field<&Joists::member>("member", kWords<overjoist::Member>),
    quantity_field<&Joists::wood>("wood_r_per_inch", resistivity, from(0.1, 10)),
});
constexpr Shape<Joists> kJoists{kJoistFields, finish_by<finish_joists>};

// Layers

constexpr Words kGrades[] = {"grade-2", "grade-3"};
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
constexpr Shape<Layer> kLayer{kLayerFields, finish_by<finish_layer>};
constexpr Field<Section> kLayerElement = object_field<&Section::layers>("layer", kLayer);

// Readings

constexpr Bounds kDepth = from(0, 120);

/// Both ends of "4 to 6 in.": the first takes the unit of the second if it has none of its own.
void set_span(Reader& r, Reading& reading, std::string_view from_text, std::string_view to_text) {
  const QuantityText to = read_quantity(to_text, length);
  QuantityText low = read_quantity(from_text, length);
  for (const QuantityText* q : {&std::as_const(low), &to})
    if (!q->ok) return r.fault("depth: " + q->fault, q->hint);
  if (!low.unit_written) {
    low.unit = to.unit;
    low.value = to.unit->to_key(low.number);
  }
  const bool written = low.unit_written || to.unit_written;
  if (!r.within(low.value, kDepth, *low.unit, written, "depth") ||
      !r.within(to.value, kDepth, *to.unit, written, "depth"))
    return;
  reading.depth = inches(low.value);
  reading.depth_to = inches(to.value);
  r.note_unit(written ? to.unit : nullptr, length, kDepth, to.value, "depth");
}

}  // namespace

void set_depth(Reader& r, Reading& reading, Scalar& v) {
  constexpr std::string_view kTo = " to ";
  if (v.kind == kText) {
    if (*v.text == "flush") {
      reading.flush = true;
      return;
    }
    const std::string_view text = *v.text;
    if (const auto to = text.find(kTo); to != std::string_view::npos)
      return set_span(r, reading, text.substr(0, to), text.substr(to + kTo.size()));
  }
  if (const auto depth = r.quantity(v, length, kDepth, "depth"))
    reading.depth = reading.depth_to = inches(*depth);
}

namespace {

void set_reading(Reader& r, Section& section, Scalar& v) {
  set_depth(r, open_member(section.readings), v);
}

void finish_reading(Reader& r, Reading& reading, const Seen& seen) {
  const bool layered = seen.has("depths");
  need_one_way(r, std::size_t{layered} + seen.has("depth"), "depth",
               "give depth, or depths with one entry for each layer");
  if (!layered) return;
  reading.depth = Length{};
  for (Length d : reading.layer_depths) reading.depth += d;
  reading.depth_to = reading.depth;
}
constexpr Field<Reading> kDepthElement =
    quantity_field<&Reading::layer_depths>("depth", length, kDepth);
constexpr auto kReadingFields = fields_of<Reading>({
    set_by<set_depth>({.key = "depth", .kinds = kNumber | kText}),
    array_field("depths", kDepthElement, 1, 8),
    number_field<&Reading::share>("share", kReadingShare),
    text_field<&Reading::where>("where", kLineText),
});
constexpr Shape<Reading> kReading{kReadingFields, finish_by<finish_reading>};
constexpr Field<Section> kReadingElement = or_object<&Section::readings>(
    set_by<set_reading>({.key = "depth", .kinds = kNumber | kText}), kReading);

// Patches

constexpr Words kPatchKinds[] = {"light-cover", "flue-clearance", "platform", "other"};
void set_patch_kind(Reader& r, Patch& patch, Scalar& v) {
  if (const auto kind = r.word(*v.text, kPatchKinds, "kind")) patch.kind = kPatchKinds[*kind];
}
constexpr auto kPatchFields = fields_of<Patch>({
    set_by<set_patch_kind>({.key = "kind", .kinds = kText, .required = true}),
    quantity_field<&Patch::area>("area_ft2", area, from(0.01, 1e6), true),
    quantity_field<&Patch::total_r>("total_r", resistance, kPositiveR),
    text_field<&Patch::where>("where", kLineText),
});
constexpr Shape<Patch> kPatch{kPatchFields};
constexpr Field<Section> kPatchElement = object_field<&Section::patches>("patch", kPatch);

constexpr Field<Section> kBypassElement = object_field<&Section::bypasses>("bypass", kBypassShape);

// Sections

template <double SurveyBuild::*M>
void set_side(Reader& r, Section&, Scalar& v) {
  r.user<SurveyBuild>().*M = v.number;
}

/// A key and the kinds of section that have it.
struct KeyOfKinds {
  std::string_view key;
  bool (*fits)(SectionKind kind);
  std::string_view whose, hint;
};
constexpr bool lies_below_a_roof(SectionKind kind) {
  return kind == SectionKind::flat || kind == SectionKind::side_attic_floor;
}
constexpr KeyOfKinds kKeysOfKinds[] = {
    {"insulation_r", is_lid, "a hatch or a pull-down stair", "give layers instead"},
    {"total_r", is_lid, "a hatch or a pull-down stair", "give layers instead"},
    {"after_insulation_r", is_lid, "a hatch or a pull-down stair",
     "give a target and a proposal instead"},
    {"readings", is_floor, "a floor",
     "give the thickness of each layer; of a lid give insulation_r or total_r"},
    {"layers", [](SectionKind k) { return !is_lid(k); }, "a floor, a slope or a knee wall",
     "give insulation_r, or total_r for the whole lid"},
    {"joists", is_floor, "a floor", "a slope has rafters, a knee wall has studs"},
    {"headroom_in", is_floor, "a floor", "leave it out"},
    {"patches", is_floor, "a floor", "make it a section of its own"},
    {"deck", [](SectionKind k) { return k == SectionKind::decked; }, "a decked section",
     "write \"kind\": \"decked\", or leave deck out"},
    {"rafters", [](SectionKind k) { return k == SectionKind::slope; }, "a slope",
     "a floor has joists, a knee wall has studs"},
    {"studs", [](SectionKind k) { return k == SectionKind::knee_wall; }, "a knee wall",
     "a floor has joists, a slope has rafters"},
    {"vent_gap_in", [](SectionKind k) { return k == SectionKind::slope; }, "a slope",
     "leave it out"},
    {"backing", [](SectionKind k) { return k == SectionKind::knee_wall; }, "a knee wall",
     "leave it out"},
    {"add", is_cavity, "a slope or a knee wall", "name what is blown onto floors under proposal"},
    {"continuous_r", is_cavity, "a slope or a knee wall", "leave it out"},
    {"eave", lies_below_a_roof, "a flat or a side-attic-floor", "leave it out"}};

void check_keys_of_kind(Reader& r, SectionKind kind, const Seen& seen) {
  for (const KeyOfKinds& k : kKeysOfKinds)
    if (!k.fits(kind) && seen.has(k.key))
      r.fault_of(k.key, fmt::format("{} is for {} only", k.key, k.whose), std::string(k.hint));
  if (kind == SectionKind::decked && !seen.has("deck"))
    r.fault("deck is missing",
            "name the deck of a decked section, such as \"plywood-1/2\", or give its R");
  if (is_cavity(kind) && !seen.has("layers") && !seen.has("add"))
    r.fault("nothing says what lies there",
            "give layers; a hollow cavity is \"layers\": [], and what goes in is add");
  if (is_lid(kind) && seen.has("insulation_r") && seen.has("total_r"))
    r.fault("the lid's R is given in more than one way", "give insulation_r or total_r");
}

void set_eave_length(Reader&, EaveSurvey& eave_survey, Scalar& v) {
  eave_survey.length = inches(v.number * 12.0);
}
constexpr auto kEaveFields = fields_of<EaveSurvey>({
    quantity_field<&EaveSurvey::heel>("heel_in", length, from(0, 120), true),
    number_field<&EaveSurvey::pitch_in_12>("pitch_in_12", from(0.1, 48), true),
    set_by<set_eave_length>({.key = "length_ft",
                             .kinds = kNumber | kText,
                             .dimension = feet,
                             .bounds = from(0.1, 2000),
                             .required = true}),
    quantity_field<&EaveSurvey::vent_gap>("vent_gap_in", length, from(0, 12)),
    quantity_field<&EaveSurvey::baffle>("baffle_in", length, from(0, 12)),
});
constexpr Shape<EaveSurvey> kEave{kEaveFields};

void finish_section(Reader& r, Section& section, const Seen& seen) {
  const bool length_given = seen.has("length_ft"), width_given = seen.has("width_ft"),
             both = length_given && width_given;
  const SurveyBuild& build = r.user<SurveyBuild>();
  if (length_given != width_given)
    r.fault(length_given ? "width_ft is missing" : "length_ft is missing",
            "length_ft and width_ft go together");
  else
    need_one_way(r, std::size_t{seen.has("area_ft2")} + both, "the area",
                 "give area_ft2, or length_ft and width_ft");
  if (both) {
    section.area = square_feet(build.length_ft * build.width_ft);
    section.length = inches(build.length_ft * 12.0);
    section.width = inches(build.width_ft * 12.0);
  }
  if (seen.has("kind")) check_keys_of_kind(r, section.kind, seen);
  section.bypasses_given = seen.has("bypasses");
}
constexpr auto kSectionFields = fields_of<Section>({
    text_field<&Section::name>("name", kNameText, true),
    word_field<&Section::kind>(
        "kind", kWords<SectionKind>, true,
        "write flat, decked, side-attic-floor, dropped-soffit, hatch, pull-down-stair, slope "
        "or knee-wall"),
    quantity_field<&Section::area>("area_ft2", area, kSectionArea),
    set_by<set_side<&SurveyBuild::length_ft>>({.key = "length_ft",
                                               .kinds = kNumber | kText,
                                               .dimension = feet,
                                               .bounds = from(0.1, 1000)}),
    set_by<set_side<&SurveyBuild::width_ft>>({.key = "width_ft",
                                              .kinds = kNumber | kText,
                                              .dimension = feet,
                                              .bounds = from(0.1, 1000)}),
    word_field<&Section::below>("below", kWords<Below>),
    board_field<&Section::ceiling>("ceiling"),
    board_field<&Section::deck>("deck"),
    part_field("films", kFilms),
    object_field<&Section::joists>("joists", kJoists),
    object_field<&Section::joists>("rafters", kJoists),
    object_field<&Section::joists>("studs", kJoists),
    board_field<&Section::deck>("backing"),
    quantity_field<&Section::vent_gap>("vent_gap_in", length, from(0, 12)),
    object_field<&Section::add>("add", kLayer),
    quantity_field<&Section::continuous_r>("continuous_r", resistance, kPartR),
    quantity_field<&Section::target_r>("target_r", resistance, kPositiveR),
    object_field<&Section::eave>("eave", kEave),
    quantity_field<&Section::headroom>("headroom_in", length, from(0.1, 240)),
    array_field("layers", kLayerElement, 0, 8),
    array_field("readings", kReadingElement, 1, 1000000),
    array_field("patches", kPatchElement, 0, 100),
    quantity_field<&Section::insulation_r>("insulation_r", resistance, kPartR),
    quantity_field<&Section::total_r>("total_r", resistance, kPositiveR),
    quantity_field<&Section::after_insulation_r>("after_insulation_r", resistance, kPartR),
    array_field("bypasses", kBypassElement, 0, 200),
});

}  // namespace

constinit const Shape<Section> kSectionShape{kSectionFields, finish_by<finish_section>};

}  // namespace overjoist::io
