// SPDX-License-Identifier: MIT
#pragma once
#include <string_view>
#include <vector>

#include "io/json_writer.hpp"
#include "overjoist/materials.hpp"

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

}  // namespace overjoist::io
