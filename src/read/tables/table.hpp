// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <string>
#include <string_view>

#include "overjoist/materials.hpp"
#include "read/shapes.hpp"

/// What the tables of data/ share: keys that stand above their rows, ids, sources.
namespace overjoist::io {

inline constexpr std::size_t kTableText = 1000, kManyRows = 10000;

/// What stands above the rows of a table file; the reader's user.
struct Header {
  std::string_view expected;  ///< the word that `table` must be
  std::string version;
  std::string who, clears;   ///< of the plausible figures: of every caution that they raise
  std::size_t leak_per = 0;  ///< of the leak at hand: index into kLeakPer
};

// One for each table of data/; a list of materials is what `overjoist materials --format json`
// writes, so that it can be edited and read back.
extern const Shape<Tables> kMaterialTable, kMaterialList, kTargetTable, kLimitTable, kCautionTable,
    kAssumptionTable, kFuelTable, kMoneyTable, kSourceTable, kBypassTable, kPlausibleTable;

/// Ids are trade words with hyphens; a fault if `id` is none.
bool is_id(Reader& reader, std::string_view id);
template <auto M>
void set_id(Reader& r, OwnerOf<M>& row, Scalar& v) {
  if (is_id(r, *v.text)) row.*M = std::move(*v.text);
}
template <auto M>
constexpr Field<OwnerOf<M>> id_field(std::string_view key, bool required) {
  return set_by<set_id<M>>({.key = key, .kinds = kText, .required = required});
}

template <auto M>
inline constexpr Field<OwnerOf<M>> kSourceOf = text_field<M>("source", kLineText);
/// Ids of the sources of a row.
template <auto M>
constexpr Field<OwnerOf<M>> sources_field() {
  return array_field("source", kSourceOf<M>, 1, 20, true);
}

// Keys that stand above the rows of every table. Words about provenance stay in the file.

void pass_over(Reader& reader, Tables& tables, Scalar& value);
void set_table(Reader& reader, Tables& tables, Scalar& value);
void set_table_version(Reader& reader, Tables& tables, Scalar& value);

constexpr Field<Tables> words_field(std::string_view key) {
  return set_by<pass_over>({.key = key, .kinds = kText, .most = kTableText});
}
inline constexpr Field<Tables> kPassedWord = words_field("source");
constexpr Field<Tables> list_field(std::string_view key) {
  return array_field(key, kPassedWord, 1, 20);
}
inline constexpr auto kTableKeys = fields_of<Tables>({
    set_by<set_table>(
        {.key = "table", .kinds = kText, .required = true, .missing = key_fault<F::missing_table>}),
    words_field("title"),
    set_by<set_table_version>({.key = "version", .kinds = kText, .most = kIdText}),
    words_field("retrieved"),
    words_field("units"),
});
constexpr Field<Tables> rows_field(const Field<Tables>& row) {
  return array_field("rows", row, 1, kManyRows, true);
}

}  // namespace overjoist::io
