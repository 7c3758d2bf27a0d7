// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluation.hpp"

/// Whether the work may begin.
namespace overjoist::parts {

/// What still stands in the way of the work; needs the finished cautions and plan.
Readiness readiness(const Evaluation& e, const Survey& survey, const Tables& tables);

}  // namespace overjoist::parts
