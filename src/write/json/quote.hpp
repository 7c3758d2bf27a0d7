// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluation.hpp"
#include "write/json/writer.hpp"

/// Claims of a quote, rebate rules and tight planes as JSON.
namespace overjoist::io {

/// The keys `claims` and `rebates` of an open result.
void write_quote_json(JsonWriter& w, const Evaluation& e);
/// The key `moisture` of an open section.
void write_moisture_json(JsonWriter& w, const SectionResult& s);

}  // namespace overjoist::io
