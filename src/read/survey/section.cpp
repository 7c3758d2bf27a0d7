// SPDX-License-Identifier: MIT
#include <algorithm>

#include "read/shapes.hpp"
#include "words/survey_words.hpp"

// The keys of one section of a survey; the whole is in survey.cpp.
namespace overjoist::io {
namespace {

using enum Dimension;

// Ceiling, deck, films

constexpr Bounds kBoardR = from(0, 100), kPartR = from(0, 200);

void need_material_or_r(Reader& r, const Board&, const Seen& seen) {
  if (!seen.has("material") && !seen.has("r")) r.fault(make_fault<F::board_not_told>());
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
  KeyFault fault;
};
constexpr bool is_slope(SectionKind kind) { return kind == SectionKind::slope; }
constexpr bool is_wall(SectionKind kind) { return kind == SectionKind::knee_wall; }
constexpr bool is_decked(SectionKind kind) { return kind == SectionKind::decked; }
constexpr bool lies_below_a_roof(SectionKind kind) {
  return kind == SectionKind::flat || kind == SectionKind::side_attic_floor;
}
constexpr KeyOfKinds kKeysOfKinds[] = {
    {"insulation_r", is_lid, key_fault<F::key_of_lid>},
    {"total_r", is_lid, key_fault<F::key_of_lid>},
    {"after_insulation_r", is_lid, key_fault<F::target_of_lid>},
    {"readings", is_floor, key_fault<F::readings_of_floor>},
    {"layers", [](SectionKind k) { return !is_lid(k); }, key_fault<F::layers_of_lid>},
    {"joists", is_floor, key_fault<F::joists_of_floor>},
    {"headroom_in", is_floor, key_fault<F::key_of_floor>},
    {"bare_area_ft2", is_floor, key_fault<F::key_of_floor>},
    {"bare_share", is_floor, key_fault<F::key_of_floor>},
    {"bare_error", is_floor, key_fault<F::key_of_floor>},
    {"patches", is_floor, key_fault<F::patches_of_floor>},
    {"deck", is_decked, key_fault<F::deck_of_decked>},
    {"rafters", is_slope, key_fault<F::rafters_of_slope>},
    {"studs", is_wall, key_fault<F::studs_of_wall>},
    {"vent_gap_in", is_slope, key_fault<F::key_of_slope>},
    {"backing", is_wall, key_fault<F::key_of_wall>},
    {"add", is_cavity, key_fault<F::fill_of_cavity>},
    {"continuous_r", is_cavity, key_fault<F::key_of_cavity>},
    {"eave", lies_below_a_roof, key_fault<F::key_below_roof>}};

void check_keys_of_kind(Reader& r, SectionKind kind, const Seen& seen) {
  for (const KeyOfKinds& k : kKeysOfKinds)
    if (!k.fits(kind) && seen.has(k.key)) r.fault_of(k.key, k.fault(k.key));
  if (kind == SectionKind::decked && !seen.has("deck")) r.fault(make_fault<F::deck_missing>());
  if (is_cavity(kind) && !seen.has("layers") && !seen.has("add"))
    r.fault(make_fault<F::cavity_not_told>());
  if (is_lid(kind) && seen.has("insulation_r") && seen.has("total_r"))
    r.fault(make_fault<F::lid_r_twice>());
}

constexpr auto kEaveFields = fields_of<EaveSurvey>({
    quantity_field<&EaveSurvey::heel>("heel_in", length, from(0, 120), true),
    number_field<&EaveSurvey::pitch_in_12>("pitch_in_12", from(0.1, 48), true),
    feet_field<&EaveSurvey::length>("length_ft", from(0.1, 2000), true),
    quantity_field<&EaveSurvey::vent_gap>("vent_gap_in", length, from(0, 12)),
    quantity_field<&EaveSurvey::baffle>("baffle_in", length, from(0, 12)),
});
constexpr Shape<EaveSurvey> kEave{kEaveFields};

/// The bare area that was measured, as a share of the section.
void finish_bare(Reader& r, Section& section, const Seen& seen) {
  const bool by_area = seen.has("bare_area_ft2");
  if (by_area && seen.has("bare_share")) return r.fault(make_fault<F::bare_twice>());
  if (seen.has("bare_error") && !by_area && !seen.has("bare_share"))
    return r.fault_of("bare_error", make_fault<F::bare_error_alone>());
  if (!by_area || !(section.area > Area{})) return;
  const double bare = r.user<SurveyBuild>().bare_area_ft2;
  if (!reaches(section.area.us(), bare))
    return r.fault_of("bare_area_ft2", make_fault<F::bare_above_area>(bare, section.area.us()));
  section.bare_share = std::min(1.0, bare / section.area.us());
}

void finish_section(Reader& r, Section& section, const Seen& seen) {
  const bool length_given = seen.has("length_ft"), width_given = seen.has("width_ft"),
             both = length_given && width_given;
  const SurveyBuild& build = r.user<SurveyBuild>();
  if (length_given != width_given)
    r.fault(make_fault<F::missing_partner>(length_given ? "width_ft" : "length_ft", "length_ft",
                                           "width_ft"));
  else
    need_one_way<F::area_missing, F::area_twice>(r, std::size_t{seen.has("area_ft2")} + both);
  if (both) {
    section.area = square_feet(build.length_ft * build.width_ft);
    section.length = inches(build.length_ft * 12.0);
    section.width = inches(build.width_ft * 12.0);
  }
  finish_bare(r, section, seen);
  if (seen.has("kind")) check_keys_of_kind(r, section.kind, seen);
  section.bypasses_given = seen.has("bypasses");
}
constexpr auto kSectionFields = fields_of<Section>({
    text_field<&Section::name>("name", kNameText, true),
    word_field<&Section::kind>("kind", kWords<SectionKind>, true,
                               key_fault<F::missing_section_kind>),
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
    set_by<set_side<&SurveyBuild::bare_area_ft2>>({.key = "bare_area_ft2",
                                                   .kinds = kNumber | kText,
                                                   .dimension = area,
                                                   .bounds = from(0, 1e6)}),
    number_field<&Section::bare_share>("bare_share", from(0, 1)),
    number_field<&Section::bare_error>("bare_error", from(0, 1)),
    array_field("patches", kPatchElement, 0, 100),
    quantity_field<&Section::insulation_r>("insulation_r", resistance, kPartR),
    quantity_field<&Section::total_r>("total_r", resistance, kPositiveR),
    quantity_field<&Section::after_insulation_r>("after_insulation_r", resistance, kPartR),
    array_field("bypasses", kBypassElement, 0, 200),
});

}  // namespace

constinit const Shape<Section> kSectionShape{kSectionFields, finish_by<finish_section>()};

}  // namespace overjoist::io
