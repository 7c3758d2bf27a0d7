// SPDX-License-Identifier: MIT
#pragma once
#include <iosfwd>

#include "overjoist/batch.hpp"

namespace overjoist::cli {

/// Counts and sums of a batch, in lines for whoever ran it.
void tell_counts(const BatchSummary& summary, double seconds, std::ostream& err);

}  // namespace overjoist::cli
