// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "inspect/parts.hpp"

// Which bags belong to which section, and how many are missing (method eq. 19).
namespace overjoist::parts {

namespace {

/// True if the record says that loose fill went into a slope or wall, whose bags nobody counts by
/// themselves.
bool packs_a_cavity(const Record& record, const Evaluation& plan) {
  return std::any_of(plan.sections.begin(), plan.sections.end(), [&](const SectionResult& s) {
    const RecordSection* r = recorded(record, s.name);
    return s.cavity && s.cavity->added > Length{} && s.cavity->added_mass && r &&
           r->done.value_or(false);
  });
}

}  // namespace

double least_bags(const TopUp& plan, const TopUp* by_tag) {
  const double need = plan.bags_exact.value_or(0.0);
  return by_tag && by_tag->bags_exact ? std::min(need, *by_tag->bags_exact) : need;
}

/// Own counts first; what the whole count holds beyond them belongs to the other sections that take
/// fill, by need.
Bags place_bags(const InspectWork& w, const std::vector<SectionInspection>& sections) {
  const Record& record = w.record;
  Bags bags;
  bags.sections.resize(sections.size());
  double own = 0.0, need = 0.0, least = 0.0;
  bool need_known = true;
  std::vector<std::size_t> others;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const RecordSection* r = recorded(record, sections[i].name);
    if (r && r->bags) {
      bags.sections[i].used = r->bags;
      own += *r->bags;
      if (!is_blown(sections[i].plan)) bags.unplaced = bags.unplaced.value_or(0.0) + *r->bags;
    } else if (is_blown(sections[i].plan)) {
      others.push_back(i);
      need_known = need_known && sections[i].plan.bags_exact;
      need += sections[i].plan.bags_exact.value_or(0.0);
      least += least_bags(sections[i].plan, w.by_tag ? &w.by_tag->sections[i] : nullptr);
    }
  }
  if (!record.bags) return bags;
  const double rest = std::max(0.0, *record.bags - own);
  if (others.empty() && rest > 0) bags.unplaced = bags.unplaced.value_or(0.0) + rest;
  if (others.empty() || !need_known || !(need > 0)) return bags;
  bags.with_cavity = packs_a_cavity(record, w.plan);
  if (bags.with_cavity) return bags;
  for (const std::size_t i : others)
    bags.sections[i] = {rest * (*sections[i].plan.bags_exact / need), others.size() > 1};
  if (others.size() == 1) bags.sections[others.front()].used = rest;
  if (others.size() == 1) return bags;
  bags.rest = rest;
  bags.rest_needed = need;
  bags.rest_least = least;
  return bags;
}

/// Whole bags that are missing, with the slack of `reaches`.
double bags_short(double used, double needed) {
  if (reaches(used, needed)) return 0.0;
  return std::max(1.0, std::ceil(needed - used - 1e-9 * std::fmax(1.0, needed)));
}

}  // namespace overjoist::parts
