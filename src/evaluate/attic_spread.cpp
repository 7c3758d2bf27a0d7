// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <vector>

#include "evaluate/spread.hpp"

// Ranges of the attic's R, from those of its sections.
namespace overjoist::parts {
namespace {

/// Range of an attic's R from the U of each section.
std::optional<ResistanceRange> attic_range(const AtticState& state, const Evaluation& e,
                                           const std::vector<UncertainU>& sections) {
  const auto left = [](const SectionResult& s) { return s.heated_below && s.existing.unmeasured; };
  const Area whole = e.attic.area;
  if (!(whole > Area{}) || std::any_of(e.sections.begin(), e.sections.end(), left)) return {};
  UncertainU sum;
  double squares = 0.0;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    if (!e.sections[i].heated_below) continue;
    const UncertainU& u = sections[i];
    const double share = e.sections[i].area / whole;
    squares +=
        share * u.half * share * u.half;  // readings of one section know nothing of another's
    sum.up += share * u.up;               // one material may lie in all of them
    sum.down += share * u.down;
  }
  sum.u = 1.0 / state.effective_r.us();
  sum.half = std::sqrt(squares);
  return resistance_range(sum, Resistance{});
}

}  // namespace

void attic_ranges(Evaluation& e, const std::vector<SectionSpread>& spreads) {
  std::vector<UncertainU> found;
  Ends<std::vector<UncertainU>> planned;
  for (const SectionSpread& s : spreads) {
    found.push_back(s.existing);
    for (const End end : {End::low, End::high}) planned[end].push_back(s.planned[end]);
  }
  e.attic.existing.effective_r_range = attic_range(e.attic.existing, e, found);
  for (const End end : {End::low, End::high}) {
    AtticState& attic = e.planned[end].attic;
    attic.effective_r_range = attic_range(attic, e, planned[end]);
  }
}

}  // namespace overjoist::parts
