// SPDX-License-Identifier: MIT
#include "read/tables/table.hpp"

// The table of money where a survey says nothing, data/money.json. Units stand in the rows, so
// their numbers have no dimension here.
namespace overjoist::io {
namespace {

constexpr auto kMoneyFields = fields_of<MoneyDefault>({
    id_field<&MoneyDefault::id>("id", true),
    number_field<&MoneyDefault::value>("value", from(0, 1e6), true),
    sources_field<&MoneyDefault::sources>(),
    text_field<&MoneyDefault::status>("status", kLineText, true),
    text_field<&MoneyDefault::note>("note", kTableText),
});
constexpr Shape<MoneyDefault> kMoneyDefault{kMoneyFields};
constexpr Field<Tables> kMoneyRow = object_field<&Tables::money>("row", kMoneyDefault);
constexpr auto kMoneyTableFields = kTableKeys.then(fields_of<Tables>({rows_field(kMoneyRow)}));

}  // namespace

constinit const Shape<Tables> kMoneyTable{kMoneyTableFields};

}  // namespace overjoist::io
