// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "evaluate/floor.hpp"
#include "evaluate/job.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"

/// Slopes and knee walls.
namespace overjoist::parts {

/// What goes into a slope or knee wall, and what it is worth then; the section after the work,
/// empty where nothing is done.
std::optional<BuiltSection> plan_cavity(WorkedSection& result, const BuiltSection& built,
                                        const Job& job);
/// Weight of what stays and what comes in, in a slope whose work is planned: its board hangs below
/// it.
void weigh_cavity(WorkedSection& result, const BuiltSection& after, const CeilingLimit* limit);

}  // namespace overjoist::parts
