// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "evaluate/floor.hpp"
#include "evaluate/job.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"
#include "overjoist/quantities.hpp"

/// Batts and boards across the joists, and what a job buys.
namespace overjoist::parts {

/// Products and stacks of a proposal with a list.
void prepare_batts(Blow& blow, const Proposal& proposal, const Job& job);
/// The top-up with batts or boards that lie across the joists, from `t` with target and limits set.
void lay_batts(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow);
/// Sides of the range; `printed` is the low one with labels as printed.
enum class LaidSide { low, printed, middle, high };
/// The floor with the layers of a top-up on it.
BaseFloor laid_floor(const BaseFloor& floor, const Blow& blow, const TopUp& t, LaidSide side);
void laid_cautions(const BuiltSection& built, const WorkedSection& result, const Blow& blow,
                   Notes& notes);

}  // namespace overjoist::parts
