// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"

// The table of assumptions, data/assumptions.json.
namespace overjoist::io {
namespace {

constexpr auto kAssumptionFields = fields_of<AssumptionRow>({
    id_field<&AssumptionRow::code>("code", true),
    text_field<&AssumptionRow::what>("what", kTableText, true),
    text_field<&AssumptionRow::why>("why", kTableText, true),
    text_field<&AssumptionRow::quiet_what>("quiet_what", kTableText),
    text_field<&AssumptionRow::quiet_why>("quiet_why", kTableText),
});
constexpr Shape<AssumptionRow> kAssumption{kAssumptionFields};
constexpr Field<Tables> kAssumptionRow = object_field<&Tables::assumptions>("row", kAssumption);
constexpr auto kAssumptionTableFields =
    kTableKeys.then(fields_of<Tables>({rows_field(kAssumptionRow)}));

}  // namespace

constinit const Shape<Tables> kAssumptionTable{kAssumptionTableFields};

}  // namespace overjoist::io
