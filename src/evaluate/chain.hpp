// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "overjoist/evaluation.hpp"

/// The chain itself, for an attic that was left otherwise than planned too.
namespace overjoist::parts {

/// How a section was really left.
struct LeftAs {
  std::optional<Length> level;  ///< floor: blown to this initial level; empty: as found
  bool as_planned = false;      ///< slope or wall: as planned; else as found
};

/// The chain of `evaluate`.  @param left  one for each section in place of the planned work, or
/// null; without alternatives then
Evaluation evaluate_left(const Survey& survey, const Tables& tables,
                         const std::vector<LeftAs>* left);

}  // namespace overjoist::parts
