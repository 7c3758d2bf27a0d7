// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/report.hpp"
#include "write/json/writer.hpp"

/// The yearly saving and what it is worth as JSON; null where a price or input is missing.
namespace overjoist::io {

/// The keys "heating" and "money" of an open result: the terms of all that follows.
void write_terms_json(JsonWriter& w, const Evaluation& evaluation);
/// The keys "measure" to "cooling" of an open total.
void write_worth_json(JsonWriter& w, const Totals& total, const Evaluation& evaluation);
/// The keys "steps" and "last_worthwhile_step" of the open totals.
void write_next_steps_json(JsonWriter& w, const Evaluation& evaluation);

}  // namespace overjoist::io
