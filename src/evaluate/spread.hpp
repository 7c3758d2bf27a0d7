// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"
#include "overjoist/strata.hpp"

/// Ranges of sections and of the attic.
namespace overjoist::parts {

/// Effective U of a section with what blurs it.
struct SpreadU {
  ReadU read;                               ///< by the readings
  double up = 0.0, down = 0.0, most = 0.0;  ///< by the materials; U of the bare ceiling
  ReadU whole() const { return with_materials(read, up, down, most); }
};

/// As found and after either end of the band.
struct SectionSpread {
  SpreadU existing;
  Ends<SpreadU> planned;
};

/// What the ranges of a section are worked out with.
struct SpreadWork {
  const Blow& blow;
  const RangePrior& prior;
  Notes& notes;
};
/// Fills the ranges, readings needed and verdict of a section whose central values stand.
/// @param after  a slope or wall after the work, or null
SectionSpread section_ranges(WorkedSection& result, const BuiltSection& built,
                             const BuiltSection* after, const SpreadWork& work);
/// Ranges of the attic's R as found and at either end, from the U of each section and its blur.
void attic_ranges(Evaluation& e, const std::vector<SectionSpread>& spreads);

}  // namespace overjoist::parts
