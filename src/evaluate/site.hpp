// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// The plan beside the fill: sealing, vents, counts.
namespace overjoist::parts {

/// Sealing, leakage, vents and counts into `e.plan`; needs sections, totals and target.
void plan_job(Evaluation& e, const Job& job);

}  // namespace overjoist::parts
