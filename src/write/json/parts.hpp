// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "overjoist/evaluate.hpp"
#include "overjoist/materials.hpp"
#include "write/json/writer.hpp"

/// Pieces that several JSON results share.
namespace overjoist::io {

/// @param row  null if the id has no row: title and status are null then
inline void write_source(JsonWriter& w, std::string_view id, const SourceRow* row) {
  w.begin_object();
  w.field("id", id);
  w.field_or_null("title", row != nullptr ? std::string_view(row->title) : std::string_view());
  w.field_or_null("status", row != nullptr ? std::string_view(row->status) : std::string_view());
  w.end_object();
}

inline void write_stamps(JsonWriter& w, const std::vector<TableStamp>& stamps) {
  w.key("tables");
  w.begin_array();
  for (const TableStamp& stamp : stamps) {
    w.begin_object();
    w.field("name", stamp.name);
    w.field("version", stamp.version);
    w.field("hash", stamp.hash);
    w.end_object();
  }
  w.end_array();
}

/// [low, high], high null where there is no upper limit; null as a whole where there is no range.
inline void write_range(JsonWriter& w, std::string_view key,
                        const std::optional<ResistanceRange>& range) {
  if (!range) return w.field_null(key);
  w.key(key);
  w.begin_array();
  w.number(range->low.us());
  if (range->high)
    w.number(range->high->us());
  else
    w.null();
  w.end_array();
}

inline void write_flag(JsonWriter& w, std::string_view key, const std::optional<bool>& flag) {
  if (!flag) return w.field_null(key);
  w.key(key);
  w.flag(*flag);
}

inline void write_state(JsonWriter& w, std::string_view key, const AtticState& state) {
  w.key(key);
  w.begin_object();
  w.field("ua_btu_per_h_f", state.ua);
  w.field("effective_r", state.effective_r);
  write_range(w, "effective_r_range", state.effective_r_range);
  w.end_object();
}

}  // namespace overjoist::io
