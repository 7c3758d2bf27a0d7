// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "evaluate/chain.hpp"
#include "evaluate/job.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/spread.hpp"
#include "evaluate/worked.hpp"
#include "evaluate/year.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// One section of a survey, worked out from its readings to its cautions.
namespace overjoist::parts {

/// What every section of a survey is worked out with.
struct SectionsWork {
  const Job& job;
  const TargetBand& band;
  const Blow& blow;
  std::vector<Stage> stages;
  std::vector<SectionSaving> savings;  ///< one for each section that was worked out
  std::vector<SectionSpread> spreads;  ///< one for each section
  const std::vector<LeftAs>* left = nullptr;
  RangePrior prior{};
};

/// As found and at either end of the band; leaves its saving and its spread in `work`.
WorkedSection work_section(const Section& section, SectionsWork& work);

/// Says whether levels were rounded up, or are the room itself.
void level_notes(const Ends<Planned>& planned, Method method, Notes& notes);

}  // namespace overjoist::parts
