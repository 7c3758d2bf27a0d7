// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "overjoist/survey.hpp"

/// What a blow costs (the cost part of model 14). A price that the user did not give is 'not priced', never 0.
namespace overjoist {

struct Cost {
  std::optional<double> material, labour, extras, total;  ///< in the survey's currency; empty: not priced
};

/// @param bags  whole bags after waste; empty if not known  @param blown_area  gross area that gets new fill
/// `total` is given only where material and labour are both priced (labour 0 counts as priced); no extras means none.
Cost blow_cost(const Proposal& proposal, std::optional<double> bags, Area blown_area);

}  // namespace overjoist
