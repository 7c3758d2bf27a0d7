// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/job.hpp"

/// Ducts, pipes and fans in the attic.
namespace overjoist::parts {

void equipment_cautions(const Job& job);

}  // namespace overjoist::parts
