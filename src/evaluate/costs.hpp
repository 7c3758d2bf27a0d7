// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "overjoist/evaluation.hpp"

/// Whose work has a price.
namespace overjoist::parts {

/// Slopes, walls and lids that get work which no price of the proposal holds; marks the extras that
/// cover such work as due.
std::vector<std::string> unpriced_work(Proposal& proposal, const Evaluation& e);
/// True if an extra of the proposal pays for a section's work.
bool covered(const Proposal& proposal, std::string_view section);

}  // namespace overjoist::parts
