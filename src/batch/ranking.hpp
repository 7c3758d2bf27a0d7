// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "overjoist/batch.hpp"

/// What a batch keeps of a survey once its record is out: its place in a ranking, and the facts
/// that its summary adds up.
namespace overjoist {

/// A survey's short record, and the value that orders it.
struct Ranked {
  double value = 0.0;
  int group = 0;  ///< 2: ranked, 1: its plan leaves the attic worse than found, 0: refused
  std::string record;
};

Ranked ranked(const Origin& origin, const Outcome& outcome, RankKey key);

/// The greatest value first; equal ones in the order of the input.
void sort_ranking(std::vector<Ranked>& list);

RecordFacts facts_of(const Evaluation& e);

}  // namespace overjoist
