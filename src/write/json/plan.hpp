// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluate.hpp"
#include "write/json/writer.hpp"

/// The plan of the work as JSON.
namespace overjoist::io {

/// The key `plan` of an open result.
void write_plan_json(JsonWriter& w, const Evaluation& e, const Tables& tables);
/// The key `counts` of one end of the band.
void write_counts_json(JsonWriter& w, const PlanCounts& counts);

}  // namespace overjoist::io
