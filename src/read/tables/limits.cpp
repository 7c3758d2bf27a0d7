// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"

// The table of what a ceiling board carries, data/limits.json.
namespace overjoist::io {
namespace {

using enum Dimension;

constexpr auto kLimitFields = fields_of<CeilingLimit>({
    id_field<&CeilingLimit::board>("board", true),
    quantity_field<&CeilingLimit::spacing>("spacing_in", length, from(1, 120), true),
    quantity_field<&CeilingLimit::limit>("limit_psf", weight_per_area, from(0.01, 50), true),
    sources_field<&CeilingLimit::sources>(),
    text_field<&CeilingLimit::status>("status", kLineText, true),
});
constexpr Shape<CeilingLimit> kLimit{kLimitFields};
constexpr Field<Tables> kLimitRow = object_field<&Tables::limits>("row", kLimit);
constexpr auto kLimitTableFields = kTableKeys.then(fields_of<Tables>({rows_field(kLimitRow)}));

}  // namespace

constinit const Shape<Tables> kLimitTable{kLimitTableFields};

}  // namespace overjoist::io
