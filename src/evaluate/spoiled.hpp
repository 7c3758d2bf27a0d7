// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/floor.hpp"
#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"

/// Fill that a hazard calls wet or soiled.
namespace overjoist::parts {

/// Takes the R of fill that a hazard of this section calls wet or soiled; asks where several layers
/// could be meant.
void spoil_by_hazards(BuiltSection& built, const Job& job);
/// Asks for the section where a hazard calls insulation wet or soiled and the survey does not tell
/// which.
void spoiled_place_cautions(const Job& job);

}  // namespace overjoist::parts
