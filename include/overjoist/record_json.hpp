// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "overjoist/diagnostics.hpp"
#include "overjoist/record.hpp"

/// Reads the record of a finished job from JSON text, by the rules of the survey reader. The format
/// is data/record.schema.json.
namespace overjoist {

struct RecordRead {
  std::optional<Record> record;  ///< empty if there is any fault
  std::string id;                ///< as far as it was read
  Diagnostics faults;            ///< all faults of the text, in order of place
};

/// Reads one record. All faults are reported in one go, with line, column and JSON Pointer. Limits
/// as of a survey. Never throws for bad input.
/// @param survey  that it belongs to: names, kinds and hazards are then held against it; null: they
/// are not
RecordRead read_record(std::string_view text, const Tables& tables, const Survey* survey = nullptr);

}  // namespace overjoist
