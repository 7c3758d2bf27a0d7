// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/floor.hpp"
#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"

/// Figures beyond a threshold of `data/plausible.json`.
namespace overjoist::parts {

/// Cautions on what is beyond a threshold of `data/plausible.json`: of one section, and of the rest
/// of the survey.
void plausible_section(const BuiltSection& built, const Job& job);
void plausible_survey(const Job& job);

}  // namespace overjoist::parts
