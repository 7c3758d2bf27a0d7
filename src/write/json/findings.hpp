// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/report.hpp"
#include "write/json/writer.hpp"

/// Cautions, assumptions, sources and tables of a result as JSON.
namespace overjoist::io {

/// The keys "cautions", "assumptions", "sources" and "tables" of an open object.
void write_words_json(JsonWriter& w, const Findings& findings, const Tables& tables,
                      const JsonStyle& style);

}  // namespace overjoist::io
