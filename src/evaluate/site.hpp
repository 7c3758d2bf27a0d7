// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// The plan beside the fill: sealing, vents, counts, readiness.
namespace overjoist::parts {

/// Sealing, leakage, vents and counts into `e.plan`; needs sections, totals and target.
void plan_job(Evaluation& e, const Job& job);
/// What still stands in the way of the work; needs the finished cautions and plan.
Readiness readiness(const Evaluation& e, const Survey& survey, const Tables& tables);

}  // namespace overjoist::parts
