// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/job.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// What an attic and each section of it is to reach.
namespace overjoist::parts {

/// The band that the survey asks for, that of its climate zone, or the default.
/// @throws Error{contradiction} where the low end is above the high one
TargetBand target_band(const Job& job);
/// The section's own target, that of every knee wall, or the attic's band.
TargetBand section_band(const Section& section, const TargetBand& attic, const Tables& tables,
                        Notes& notes);

}  // namespace overjoist::parts
