// SPDX-License-Identifier: MIT
#pragma once
#include "evaluate/floor.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// Facings and tight layers against the dew point.
namespace overjoist::parts {

/// Fills `moisture` of a section whose plan stands; a caution where a facing stays below the dew
/// point.
void add_moisture(WorkedSection& result, const BuiltSection& built, const Survey& survey,
                  Notes& notes);
/// Cautions on facings, once `moisture` stands: where the air of winter is known its verdict takes
/// the place of the rule of thumb.
void facing_cautions(const BuiltSection& built, const SectionResult& result, Notes& notes);

}  // namespace overjoist::parts
