// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluation.hpp"

/// The one function that runs the chain. Every face (assess, quick, batch, reports) calls it;
/// writers translate its result and never compute.
namespace overjoist {

/// Runs model 1-14 and 16-18 over one survey. Pure; same input, same result.
/// @throws Error where the survey cannot be computed (the reader finds most faults before)
Evaluation evaluate(const Survey& survey, const Tables& tables);

}  // namespace overjoist
