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
                                           const std::vector<SpreadU>& sections) {
  const auto left = [](const SectionResult& s) { return s.heated_below && s.existing.unmeasured; };
  const Area whole = e.attic.area;
  if (!(whole > Area{}) || std::any_of(e.sections.begin(), e.sections.end(), left)) return {};
  SpreadU sum;
  double low = 0.0, high = 0.0, most = 0.0;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    if (!e.sections[i].heated_below) continue;
    const SpreadU& u = sections[i];
    const double share = e.sections[i].area / whole;
    // Readings of one section know nothing of another's; one material may lie in all of them.
    low = std::hypot(low, share * (u.read.u - u.read.low));
    high = std::hypot(high, share * (u.read.high - u.read.u));
    sum.up += share * u.up;
    sum.down += share * u.down;
    most += share * (u.most - u.read.u);
  }
  const double u = 1.0 / state.effective_r.us();
  sum.read = {u, u - low, u + high};
  sum.most = u + most;
  return resistance_range(sum.whole(), Resistance{});
}

}  // namespace

void attic_ranges(Evaluation& e, const std::vector<SectionSpread>& spreads) {
  std::vector<SpreadU> found;
  Ends<std::vector<SpreadU>> planned;
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
