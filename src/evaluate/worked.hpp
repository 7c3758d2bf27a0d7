// SPDX-License-Identifier: MIT
#pragma once
#include "overjoist/evaluation.hpp"

/// A section on its way through the chain.
namespace overjoist::parts {

/// A section while it is worked out: as found, and what it gets at either end of the band.
struct WorkedSection {
  SectionResult found;
  Ends<TopUp> planned;
};

}  // namespace overjoist::parts
