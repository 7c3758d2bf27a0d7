// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluate.hpp"
#include "write/json/writer.hpp"

/// Batts, packages and the comparison in JSON.
namespace overjoist::io {

/// Keys of a top-up: batts, overshoot_r, board_ft_exact.
void write_laid_json(JsonWriter& w, const TopUp& t);
/// Keys of a total: packages, board_ft.
void write_packages_json(JsonWriter& w, const Totals& t);
/// The list `compare`; empty without a comparison.
void write_compare_json(JsonWriter& w, const Evaluation& e, const Tables& tables);

}  // namespace overjoist::io
