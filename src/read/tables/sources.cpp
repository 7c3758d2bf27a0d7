// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"

// The table of sources, data/sources.json.
namespace overjoist::io {
namespace {

constexpr auto kSourceFields = fields_of<SourceRow>({
    id_field<&SourceRow::id>("id", true),
    text_field<&SourceRow::title>("title", kTableText, true),
    text_field<&SourceRow::status>("status", kLineText, true),
    text_field<&SourceRow::by>("by", 80),
    text_field<&SourceRow::printed>("printed", 40),
    text_field<&SourceRow::read>("read", 40, true),
});
constexpr Shape<SourceRow> kSource{kSourceFields};
constexpr Field<Tables> kSourceRow = object_field<&Tables::sources>("row", kSource);
constexpr auto kSourceTableFields = kTableKeys.then(fields_of<Tables>({rows_field(kSourceRow)}));

}  // namespace

constinit const Shape<Tables> kSourceTable{kSourceTableFields};

}  // namespace overjoist::io
