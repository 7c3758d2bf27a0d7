// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"

// The table of fuels, data/fuels.json. Units stand in the rows, so their numbers have no dimension
// here.
namespace overjoist::io {
namespace {

constexpr auto kFuelFields = fields_of<Fuel>({
    id_field<&Fuel::id>("id", true),
    text_field<&Fuel::name>("name", 80, true),
    text_field<&Fuel::unit>("unit", 20, true),
    number_field<&Fuel::btu_per_unit>("btu_per_unit", from(1, 1e9), true),
    number_field<&Fuel::co2_lb_per_unit>("co2_lb_per_unit", from(0, 1e6)),
    whole_field<&Fuel::year>("year", from(1950, 2100)),
    sources_field<&Fuel::sources>(),
    text_field<&Fuel::status>("status", kLineText, true),
    text_field<&Fuel::note>("note", kTableText),
});
constexpr Shape<Fuel> kFuel{kFuelFields};
constexpr Field<Tables> kFuelRow = object_field<&Tables::fuels>("row", kFuel);
constexpr auto kFuelTableFields = kTableKeys.then(fields_of<Tables>({rows_field(kFuelRow)}));

}  // namespace

constinit const Shape<Tables> kFuelTable{kFuelTableFields};

}  // namespace overjoist::io
