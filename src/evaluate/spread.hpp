// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"
#include "overjoist/ranges.hpp"

/// Ranges of sections and of the attic.
namespace overjoist::parts {

/// Effective U of a section with what blurs it, as found and after either end of the band.
struct SectionSpread {
  UncertainU existing;
  Ends<UncertainU> planned;
};

/// Fills the ranges, readings needed and verdict of a section whose central values stand.
/// @param after  a slope or wall after the work, or null
SectionSpread section_ranges(WorkedSection& result, const BuiltSection& built,
                             const BuiltSection* after, const Blow& blow, Notes& notes);
/// Ranges of the attic's R as found and at either end, from the U of each section and its blur.
void attic_ranges(Evaluation& e, const std::vector<SectionSpread>& spreads);

}  // namespace overjoist::parts
