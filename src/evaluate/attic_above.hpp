// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>

#include "evaluate/job.hpp"
#include "overjoist/evaluation.hpp"

/// What lies between the ceilings and outdoors, for the yearly saving (method eq. 13c).
namespace overjoist::parts {

/// Which air lies above a section.
enum class Above { attic, side, outdoors };
constexpr Above above(SectionKind kind) {
  if (kind == SectionKind::slope) return Above::outdoors;
  const bool side = kind == SectionKind::knee_wall || kind == SectionKind::side_attic_floor;
  return side ? Above::side : Above::attic;
}

/// Roof and attic air of the survey; every default that is taken is listed.
AtticAir attic_air(const Job& job);

/// UA of the heated sections and their patches.
/// @param r  effective R of the section of an index
template <class F>
CeilingUa ceiling_ua(const Evaluation& e, F r) {
  CeilingUa ua;
  for (std::size_t i = 0; i < e.sections.size(); ++i) {
    const SectionResult& s = e.sections[i];
    if (!s.heated_below) continue;
    const Above air = above(s.kind);
    Conductance& part = air == Above::attic ? ua.attic : air == Above::side ? ua.side : ua.slope;
    part += inverse(r(i)) * s.area;
    for (const PatchResult& p : s.patches) part += inverse(p.total_r) * p.area;
  }
  return ua;
}

/// Heat to outdoors by the degree: as found, at the least R that its range leaves, after an end.
struct Losses {
  double found, most, after;
};

Losses losses_of(const Evaluation& e, const Planned& planned);

}  // namespace overjoist::parts
