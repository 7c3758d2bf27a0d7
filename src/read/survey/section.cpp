// SPDX-License-Identifier: MIT
#include <fmt/core.h>

#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The keys of one section of a survey; the whole is in survey.cpp.
namespace overjoist::io {
namespace {

using enum Dimension;

// Ceiling, deck, films

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
constexpr Shape<Board> kBoard{kBoardFields, finish_by<need_material_or_r>()};

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

constexpr Field<Section> kLayerElement = object_field<&Section::layers>("layer", kLayerShape);

void set_reading(Reader& r, Section& section, Scalar& v) {
  set_depth(r, open_member(section.readings), v);
}

constexpr Field<Section> kReadingElement = or_object<&Section::readings>(
    set_by<set_reading>({.key = "depth", .kinds = kNumber | kText}), kReadingShape);

// Patches

constexpr std::string_view kPatchKinds[] = {"light-cover", "flue-clearance", "platform", "other"};
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

constexpr auto kEaveFields = fields_of<EaveSurvey>({
    quantity_field<&EaveSurvey::heel>("heel_in", length, from(0, 120), true),
    number_field<&EaveSurvey::pitch_in_12>("pitch_in_12", from(0.1, 48), true),
    feet_field<&EaveSurvey::length>("length_ft", from(0.1, 2000), true),
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
    object_field<&Section::joists>("joists", kJoistsShape),
    object_field<&Section::joists>("rafters", kJoistsShape),
    object_field<&Section::joists>("studs", kJoistsShape),
    board_field<&Section::deck>("backing"),
    quantity_field<&Section::vent_gap>("vent_gap_in", length, from(0, 12)),
    object_field<&Section::add>("add", kLayerShape),
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

constinit const Shape<Section> kSectionShape{kSectionFields, finish_by<finish_section>()};

}  // namespace overjoist::io
