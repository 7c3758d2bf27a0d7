// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "overjoist/diagnostics.hpp"
#include "overjoist/ends.hpp"
#include "overjoist/evaluate.hpp"
#include "overjoist/materials.hpp"
#include "write/json/writer.hpp"

/// Pieces that several JSON results share.
namespace overjoist::io {

/// The keys of an open object.
/// @param row  null if the id has no row: title and status are null then
inline void write_source(JsonWriter& w, std::string_view id, const SourceRow* row) {
  w.field("id", id);
  w.field_or_null("title", row != nullptr ? std::string_view(row->title) : std::string_view());
  w.field_or_null("status", row != nullptr ? std::string_view(row->status) : std::string_view());
}

inline void write_stamps(JsonWriter& w, const std::vector<TableStamp>& stamps) {
  w.objects("tables", stamps, [&](const TableStamp& stamp) {
    w.field("name", stamp.name);
    w.field("version", stamp.version);
    w.field("hash", stamp.hash);
  });
}

/// [low, high], high null where there is no upper limit; null as a whole where there is no range.
inline void write_range(JsonWriter& w, std::string_view key,
                        const std::optional<ResistanceRange>& range) {
  if (!range) return w.field_null(key);
  w.list(key, [&] {
    w.number(range->low.us());
    if (range->high)
      w.number(range->high->us());
    else
      w.null();
  });
}

/// Both ends of the band, each by `write(key, end)`.
/// @param of  anything with a `low` and a `high`
template <class Of, class Write>
void write_ends(const Of& of, Write write, const Ends<std::string_view>& keys = {"low", "high"}) {
  write(keys.low, of.low);
  write(keys.high, of.high);
}

/// A field for each end of the band.
template <class Of>
void field_ends(JsonWriter& w, const Of& of, const Ends<std::string_view>& keys) {
  write_ends(
      of, [&](std::string_view key, const auto& value) { w.field(key, value); }, keys);
}

inline void write_state(JsonWriter& w, std::string_view key, const AtticState& state) {
  w.object(key, [&] {
    w.field("ua_btu_per_h_f", state.ua);
    w.field("effective_r", state.effective_r);
    write_range(w, "effective_r_range", state.effective_r_range);
  });
}

/// The line or the column of a fault; null: it has no place in a text.
inline void write_place(JsonWriter& w, std::string_view key, std::size_t count) {
  w.field(key, count > 0 ? std::optional(static_cast<double>(count)) : std::nullopt);
}

inline void write_faults(JsonWriter& w, const Diagnostics& faults) {
  w.objects("diagnostics", faults, [&](const Diagnostic& fault) {
    w.field("pointer", fault.pointer);
    write_place(w, "line", fault.line);
    write_place(w, "column", fault.column);
    w.field("message", fault.message);
    w.field_or_null("hint", fault.hint);
  });
}

/// Keys of the user's own, with the JSON text that stood there.
inline void write_own_keys(JsonWriter& w,
                           const std::vector<std::pair<std::string, std::string>>& keys) {
  for (const auto& own : keys) {
    w.text_key(own.first);
    w.raw(own.second);
  }
}

}  // namespace overjoist::io
