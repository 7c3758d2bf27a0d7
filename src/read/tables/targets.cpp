// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"

// The table of targets with the climate zones, films and usual figures beside them,
// data/targets.json.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr Bounds kDegreeDays = from(1, 30000);

constexpr auto kTargetRowFields = fields_of<TargetRow>({
    whole_field<&TargetRow::zone>("zone", from(1, 8), true),
    quantity_field<&TargetRow::low>("low_r", resistance, kPositiveR, true),
    quantity_field<&TargetRow::high>("high_r", resistance, kPositiveR, true),
    sources_field<&TargetRow::sources>(),
    text_field<&TargetRow::status>("status", kLineText, true),
});
constexpr Shape<TargetRow> kTargetOfZone{kTargetRowFields};
constexpr Field<Tables> kTargetRow = object_field<&Tables::targets>("row", kTargetOfZone);
constexpr auto kZoneFields = fields_of<ZoneRule>({
    whole_field<&ZoneRule::zone>("zone", from(1, 8), true),
    flag_field<&ZoneRule::marine>("marine"),
    number_field<&ZoneRule::cdd50_above>("cdd50_above", kDegreeDays),
    number_field<&ZoneRule::cdd50_upto>("cdd50_upto", kDegreeDays),
    number_field<&ZoneRule::hdd65_above>("hdd65_above", kDegreeDays),
    number_field<&ZoneRule::hdd65_upto>("hdd65_upto", kDegreeDays),
});
constexpr Shape<ZoneRule> kZone{kZoneFields};
constexpr Field<Tables> kZoneRow = object_field<&Tables::zones>("zone", kZone);
constexpr auto kUsualFilmFields = fields_of<Tables>({
    quantity_field<&Tables::film_inside>("inside_r", resistance, from(0.01, 5), true),
    quantity_field<&Tables::film_attic>("attic_r", resistance, from(0.01, 5), true),
    quantity_field<&Tables::film_vertical>("vertical_r", resistance, from(0.01, 5), true),
    list_field("source"),
    words_field("status"),
});
constexpr Shape<Tables> kUsualFilms{kUsualFilmFields};
constexpr auto kTargetTableFields = kTableKeys.then(fields_of<Tables>({
    quantity_field<&Tables::default_low>("default_low_r", resistance, kPositiveR, true),
    quantity_field<&Tables::default_high>("default_high_r", resistance, kPositiveR, true),
    list_field("default_source"),
    words_field("default_status"),
    part_field("films", kUsualFilms, true),
    quantity_field<&Tables::wood>("wood_r_per_inch", resistivity, from(0.01, 5), true),
    list_field("wood_source"),
    words_field("wood_status"),
    quantity_field<&Tables::default_bag>("default_bag_lb", mass, kBagNet, true),
    list_field("default_bag_source"),
    words_field("default_bag_status"),
    quantity_field<&Tables::knee_wall_r>("knee_wall_r", resistance, kPositiveR, true),
    list_field("knee_wall_source"),
    words_field("knee_wall_status"),
    quantity_field<&Tables::vent_gap>("vent_gap_in", length, from(0.01, 12), true),
    list_field("vent_gap_source"),
    words_field("vent_gap_status"),
    list_field("zones_source"),
    words_field("zones_status"),
    array_field("zones", kZoneRow, 1, 100, true),
    rows_field(kTargetRow),
}));

}  // namespace

constinit const Shape<Tables> kTargetTable{kTargetTableFields};

}  // namespace overjoist::io
