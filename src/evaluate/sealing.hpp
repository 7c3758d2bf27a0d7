// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// What sealing saves in a year, and the worth of a saving.
namespace overjoist::parts {

/// Takes a sealing saving that is given or accepted into the package's line; needs the plan. Says
/// if none is counted.
void add_sealing_saving(Evaluation& e, const Job& job);
/// Saving and what follows from it, into a line whose cost and rebate stand.
void add_worth(WorthLine& line, std::optional<double> saving,
               const std::optional<MoneyTerms>& terms);

}  // namespace overjoist::parts
