// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluation.hpp"

/// The same attic with other proposals.
namespace overjoist::parts {

/// A row for each alternative, the survey's own proposal first.
void add_compare(Evaluation& e, const Survey& survey, const Tables& tables);

}  // namespace overjoist::parts
