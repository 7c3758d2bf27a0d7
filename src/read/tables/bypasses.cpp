// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"
#include "words/survey_words.hpp"

// The table of air leaks and the figures beside them, data/bypasses.json.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr std::string_view kLeakPer[] = {"each", "m", "m2"};
constexpr Bounds kOpening = from(0.01, 240), kAmount = from(0.001, 1000);

/// The unit of a leakage area goes by the unit of its row and is not kept.
void set_leak_per(Reader& r, BypassLeak&, Scalar& v) {
  r.user<Header>().leak_per = static_cast<std::size_t>(v.number);
}
void finish_bypass_row(Reader& r, const BypassRow& row, const Seen& seen) {
  if (seen.has("leak") && r.user<Header>().leak_per != static_cast<std::size_t>(row.unit))
    r.fault(make_fault<F::leak_of_other_unit>());
}
template <auto M>
constexpr Field<OwnerOf<M>> amount_field(std::string_view key) {
  return number_field<M>(key, kAmount);
}
constexpr auto kLeakFields = fields_of<BypassLeak>({
    number_field<&BypassLeak::typical_cm2>("typical_cm2", kAmount, true),
    number_field<&BypassLeak::tight_cm2>("tight_cm2", kAmount, true),
    set_by<set_leak_per>({.key = "per", .kinds = kText, .words = kLeakPer, .required = true}),
    sources_field<&BypassLeak::sources>(),
    text_field<&BypassLeak::status>("status", kLineText, true),
});
constexpr Shape<BypassLeak> kLeak{kLeakFields};
constexpr auto kBypassRowFields = fields_of<BypassRow>({
    id_field<&BypassRow::id>("id", true),
    text_field<&BypassRow::name>("name", kLineText, true),
    word_field<&BypassRow::unit>("unit", kWords<BypassUnit>, true),
    whole_field<&BypassRow::rank>("rank", from(1, 20), true),
    text_field<&BypassRow::seal_with>("seal_with", kTableText, true),
    word_field<&BypassRow::sealant>("sealant", kWords<Sealant>, true),
    quantity_field<&BypassRow::bead_width>("bead_width_in", length, kOpening),
    amount_field<&BypassRow::bead_ft_per_unit>("bead_ft_per_unit"),
    flag_field<&BypassRow::rim>("rim"),
    quantity_field<&BypassRow::opening_length>("opening_length_in", length, kOpening),
    quantity_field<&BypassRow::opening_width>("opening_width_in", length, kOpening),
    flag_field<&BypassRow::board_over_opening>("board_over_opening"),
    amount_field<&BypassRow::board_per_unit>("board_ft2_per_unit"),
    amount_field<&BypassRow::metal_per_unit_low>("metal_ft2_per_unit_low"),
    amount_field<&BypassRow::metal_per_unit_high>("metal_ft2_per_unit_high"),
    amount_field<&BypassRow::tubes_per_unit>("tubes_per_unit"),
    amount_field<&BypassRow::covers_per_unit>("covers_per_unit"),
    flag_field<&BypassRow::hole>("hole"),
    flag_field<&BypassRow::fan>("fan"),
    text_field<&BypassRow::fire_rule>("fire_rule", kTableText),
    object_field<&BypassRow::leak>("leak", kLeak),
    sources_field<&BypassRow::sources>(),
    text_field<&BypassRow::status>("status", kLineText, true),
    text_field<&BypassRow::note>("note", kTableText),
});
constexpr Shape<BypassRow> kBypass{kBypassRowFields, finish_by<finish_bypass_row>()};
constexpr Field<Tables> kBypassRow = object_field<&Tables::bypasses>("row", kBypass);
constexpr auto kFigureFields = fields_of<FigureRow>({
    id_field<&FigureRow::id>("id", true),
    number_field<&FigureRow::value>("value", from(0.0001, 10000), true),
    text_field<&FigureRow::unit>("unit", kLineText, true),
    sources_field<&FigureRow::sources>(),
    text_field<&FigureRow::status>("status", kLineText, true),
    text_field<&FigureRow::note>("note", kTableText),
});
constexpr Shape<FigureRow> kFigure{kFigureFields};
constexpr Field<Tables> kFigureRow = object_field<&Tables::figures>("figure", kFigure);
constexpr auto kBypassTableFields = kTableKeys.then(fields_of<Tables>({
    array_field("figures", kFigureRow, 1, kManyRows, true),
    rows_field(kBypassRow),
}));

}  // namespace

constinit const Shape<Tables> kBypassTable{kBypassTableFields};

}  // namespace overjoist::io
