// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "cli/commands.hpp"
#include "overjoist/diagnostics.hpp"

/// What `quick` makes of its flags, and its faults for somebody who sees no survey.
namespace overjoist::cli {

/// The survey that the flags stand for; what is not told is left out, so that `evaluate` fills and
/// lists it.
/// @param leave_depth  the depth of this material is not asked for: nobody may touch it
std::string survey_of_flags(const QuickOptions& options, bool leave_depth);

/// The faults of that survey in the words of the flags, each at its flag: there is no file that a
/// line number could point into.
Diagnostics by_flag(Diagnostics faults);

/// A label belongs to a material that is told.
Diagnostics label_faults(const QuickOptions& options);

}  // namespace overjoist::cli
