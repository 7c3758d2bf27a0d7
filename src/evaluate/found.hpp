// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "evaluate/floor.hpp"
#include "overjoist/evaluation.hpp"
#include "overjoist/quantities.hpp"

/// What a section is worth as found, and what must come out of it.
namespace overjoist::parts {

/// Existing R-values and the way from the yardstick figure to them.
ExistingResult existing_result(const BuiltSection& built);
/// True if the density of all that stays is known: what comes out will not rest on the ceiling.
bool weight_known(const BuiltSection& built);
/// The floor that new fill would be blown on: what must come out is gone.
BaseFloor base_floor(const BuiltSection& built);
std::vector<RemovalResult> removals(const BuiltSection& built);
/// R of a section by two coupled columns (method eq. 5a).
Resistance columns_r(const BuiltSection& built);
/// The same floor with the stacks of its spots, to be taken by two coupled columns.
BaseFloor in_columns(const BuiltSection& built, const BaseFloor& floor);
/// Takes the two coupled columns as the section's method from here on.
void use_columns(BuiltSection& built);

}  // namespace overjoist::parts
