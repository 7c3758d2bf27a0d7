// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "evaluate/job.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/spread.hpp"
#include "evaluate/stages.hpp"
#include "overjoist/evaluation.hpp"

/// What a year saves.
namespace overjoist::parts {

/// What the yearly saving and its worth are worked out from, beside the sections' results.
struct SavingsWork {
  const Proposal& proposal;
  const Blow& blow;
  const std::vector<Stage>& stages;
  const std::vector<SectionSaving>& sections;
  const std::vector<SectionSpread>& spreads;
};

/// Fills heating, money, steps and the yearly and money parts of both totals.
void add_savings(Evaluation& e, const Job& job, const SavingsWork& work);

}  // namespace overjoist::parts
