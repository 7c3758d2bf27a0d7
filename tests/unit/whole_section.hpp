// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <utility>
#include <vector>

#include "overjoist/evaluation.hpp"

/// A section of a result with what either end of the band gives it, in one piece.
namespace fixtures {

struct WholeSection : overjoist::SectionResult {
  overjoist::TopUp low, high;
};

inline WholeSection section_of(const overjoist::Evaluation& e, std::size_t i = 0) {
  return {e.sections.at(i), e.planned.low.sections.at(i), e.planned.high.sections.at(i)};
}

inline std::vector<WholeSection> sections_of(const overjoist::Evaluation& e) {
  std::vector<WholeSection> list;
  for (std::size_t i = 0; i < e.sections.size(); ++i) list.push_back(section_of(e, i));
  return list;
}

inline void put_in(overjoist::Evaluation& e, WholeSection s) {
  e.planned.low.sections.push_back(std::move(s.low));
  e.planned.high.sections.push_back(std::move(s.high));
  e.sections.push_back(std::move(s));
}

}  // namespace fixtures
