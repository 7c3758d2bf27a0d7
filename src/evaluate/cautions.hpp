// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "evaluate/floor.hpp"
#include "evaluate/job.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// Cautions that follow from what was found and from what is planned.
namespace overjoist::parts {

/// What is said of a batt that lies thinner than its label says.
void squeezed_cautions(const std::string& where, const BuiltLayer& layer, Length thinnest,
                       Notes& notes);
/// Cautions of hazards and of the house's age.
void attic_cautions(const Job& job);
/// Cautions that follow from a section as found, and from what is planned for it.
void section_cautions(const BuiltSection& built, const Tables& tables, Notes& notes);
void plan_cautions(const BuiltSection& built, const WorkedSection& result, const Blow& blow,
                   Notes& notes);
/// The weight on a floor's ceiling, and on that of a slope into which something is put.
/// @param limit  null: none is published for this board and spacing
void weight_cautions(const BuiltSection& built, const WorkedSection& result,
                     const CeilingLimit* limit, const Tables& tables, Notes& notes);
/// While a fill taken as asbestos is not cleared, the result says so, and no reading is asked for.
void keep_hands_off(Evaluation& e, Notes& notes);

}  // namespace overjoist::parts
