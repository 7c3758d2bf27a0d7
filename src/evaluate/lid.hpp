// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "evaluate/floor.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// What is no floor, slope or wall: lids, and patches that stay as they are.
namespace overjoist::parts {

/// How a lid stands with the R that the survey plans for it, if any.
void plan_lid(WorkedSection& result, const BuiltSection& built, Notes& notes);
/// Parts of a section without insulation, such as a platform; bare where no R is given.
std::vector<PatchResult> patches(const BuiltSection& built, Notes& notes);

}  // namespace overjoist::parts
