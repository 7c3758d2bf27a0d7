// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluation.hpp"

/// A quote and rebate rules held against the figures.
namespace overjoist::parts {

/// Holds the claims of a quote against sections, attic and totals.
void hold_claims(Evaluation& e, const Survey& survey, const Proposal& proposal);
/// Holds rebate rules against what either end blows, by the working R of those sections and the
/// cost of all.
void hold_rebates(Evaluation& e, const Survey& survey);

}  // namespace overjoist::parts
