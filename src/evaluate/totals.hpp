// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "evaluate/offer.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// What all sections together come to.
namespace overjoist::parts {

AtticResult attic_found(const std::vector<SectionResult>& sections);
/// The attic with what its sections get; needs area and sections of `e`.
AtticState attic_after(const Evaluation& e, const std::vector<TopUp>& planned);
/// Goods and costs of one job, without what a year saves.
Totals job_totals(const Evaluation& e, const std::vector<TopUp>& planned, const Blow& blow,
                  const Proposal& proposal);
/// Says that prices are taken without tax, where there are any.
void tax_note(const Proposal& proposal, const Totals& t, Notes& notes);

}  // namespace overjoist::parts
