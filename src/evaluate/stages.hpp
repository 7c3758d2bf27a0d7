// SPDX-License-Identifier: MIT
#pragma once
#include <string_view>
#include <vector>

#include "evaluate/floor.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/worked.hpp"
#include "overjoist/cautions.hpp"
#include "overjoist/evaluation.hpp"

/// What a section gives to the next-step table.
namespace overjoist::parts {

/// What a section gives to the yearly saving, beside its result.
struct SectionSaving {
  Resistance before;  ///< effective R as found, wet or soiled fill at its dry high R
  std::vector<TopUp>
      stages;  ///< at each of the targets of `stages_of`; empty where nothing is blown
};

/// A target of the next-step table.
struct Stage {
  std::string_view step;
  Resistance target;
};

/// Low, middle, high and beyond, in rising R; equal ones once. Empty where heating or degree days
/// are not given.
std::vector<Stage> stages_of(const Survey& survey, const TargetBand& band, const Tables& tables);

/// What the stages of a floor are, and what they are blown with.
struct StageWork {
  const std::vector<Stage>& stages;
  const Blow& blow;
  Basis basis;
};
SectionSaving section_saving(const BuiltSection& built, const WorkedSection& result,
                             const StageWork& work, Notes& notes);

}  // namespace overjoist::parts
