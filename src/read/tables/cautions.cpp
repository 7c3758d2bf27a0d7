// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"
#include "words/survey_words.hpp"

// The table of cautions, data/cautions.json.
namespace overjoist::io {
namespace {

constexpr Field<CautionRow> kCautionName = text_field<&CautionRow::names>("part", kIdText),
                            kHazardKind = text_field<&CautionRow::hazard_kinds>("kind", kIdText);
constexpr auto kCautionFields = fields_of<CautionRow>({
    id_field<&CautionRow::code>("code", true),
    word_field<&CautionRow::level>("level", kWords<CautionLevel>, true),
    text_field<&CautionRow::brief>("short", 48),
    text_field<&CautionRow::text>("text", kTableText, true),
    set_by<set_text<&CautionRow::who>>({.key = "who", .kinds = kText, .required = true}),
    set_by<set_text<&CautionRow::clears>>({.key = "clears", .kinds = kText, .required = true}),
    sources_field<&CautionRow::sources>(),
    text_field<&CautionRow::status>("status", kLineText, true),
    array_field("hazard_kinds", kHazardKind, 1, 50),
    flag_field<&CautionRow::standing>("standing"),
    flag_field<&CautionRow::hands_off>("hands_off"),
    array_field("names", kCautionName, 1, 20),
});
constexpr Shape<CautionRow> kCaution{kCautionFields};
constexpr Field<Tables> kCautionRow = object_field<&Tables::cautions>("row", kCaution);
constexpr auto kQuietFields = fields_of<QuietWords>({
    id_field<&QuietWords::code>("code", true),
    text_field<&QuietWords::text>("text", kTableText),
    set_by<set_text<&QuietWords::who>>({.key = "who", .kinds = kText}),
    set_by<set_text<&QuietWords::clears>>({.key = "clears", .kinds = kText}),
});
constexpr Shape<QuietWords> kQuiet{kQuietFields};
constexpr Field<Tables> kQuietRow = object_field<&Tables::quiet_cautions>("words", kQuiet);
constexpr auto kCautionTableFields = kTableKeys.then(fields_of<Tables>({
    rows_field(kCautionRow),
    array_field("while_hands_off", kQuietRow, 0, kManyRows),
}));

}  // namespace

constinit const Shape<Tables> kCautionTable{kCautionTableFields};

}  // namespace overjoist::io
