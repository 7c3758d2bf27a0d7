// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "evaluate/chain.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "evaluate/offer.hpp"
#include "inspect/parts.hpp"
#include "overjoist/cautions.hpp"

// What was sold by a quote: its final R, or its inches where it names none (method eq. 19).
namespace overjoist::parts {
namespace {

/// The final R that is claimed of this place; null where none or several are.
const Claim* only_final_r(const std::vector<Claim>& claims, const std::string& where) {
  const Claim* found = nullptr;
  for (const Claim& c : claims) {
    if (c.kind != ClaimKind::final_r || c.where != where || !(c.value > 0)) continue;
    if (found) return nullptr;
    found = &c;
  }
  return found;
}

/// The only inches of a kind that are claimed of a floor, or of no place; empty where none or
/// several are.
std::optional<Length> only_inches(const std::vector<Claim>& claims, ClaimKind kind,
                                  const std::string& where) {
  std::optional<Length> found;
  for (const Claim& c : claims) {
    if (c.kind != kind || (c.where != where && !c.where.empty()) || !(c.value > 0)) continue;
    if (found) return {};
    found = inches(c.value);
  }
  return found;
}

/// The level at which a rising depth is so much; empty where no level within reach has it.
template <class F>
std::optional<Length> level_where(Length goal, Length most, F depth) {
  constexpr double kHair = 1e-9;
  double lo = 0.0, hi = most.us();
  if (!reaches(depth(most).us(), goal.us())) return {};
  while (hi - lo > kHair) {
    const double middle = (lo + hi) / 2;
    (depth(inches(middle)) < goal ? lo : hi) = middle;
  }
  return inches(hi);
}

/// The level that a quote's inches mean on this floor, as high as the chart goes at most.
std::optional<Length> level_sold(const std::vector<Claim>& claims, const BuiltSection& built,
                                 const BaseFloor& floor, const Blow& blow) {
  constexpr double kHighest = 240.0;  // inches: no attic is blown higher
  Length most = inches(kHighest);
  for (const BaseSpot& spot : floor.spots)
    if (blow.fill.chart)
      most = std::min(most, spot.surface + blow.chart.at(blow.chart.last_settled()).initial);
  const std::string& name = built.survey->name;
  if (const auto initial = only_inches(claims, ClaimKind::initial_in, name))
    return std::min(*initial, most);
  const auto amounts = [&](Length level) {
    return fill_quantity(floor, blow.fill, level, built.survey->area,
                         {blow.bag_net, blow.chart_deducts_framing});
  };
  const auto settled_level = [&](Length level) { return amounts(level).settled_level; };
  const auto mean = [&](Length level) { return amounts(level).mean; };
  if (const auto settled = only_inches(claims, ClaimKind::settled_in, name))
    return level_where(*settled, most, settled_level);
  if (const auto added = only_inches(claims, ClaimKind::added_in, name))
    return level_where(*added, most, mean);
  return {};
}

/// What was sold by inches aims at the R that those inches make, as the chain works it out.
void aim_at_levels(Survey& s, const Tables& tables, const SoldLevels& levels) {
  if (std::none_of(levels.begin(), levels.end(), kKnown)) return;
  std::vector<LeftAs> left;
  left.reserve(levels.size());
  for (const auto& level : levels) left.push_back({level, false});
  const Evaluation e = evaluate_left(s, tables, &left);
  for (std::size_t i = 0; i < levels.size(); ++i)
    if (levels[i]) s.sections[i].target_r = e.planned.high.sections[i].after();
}

}  // namespace

bool sell_quote(Survey& s, const std::vector<Claim>& claims, const Record& record) {
  if (record.sold) return false;
  const Claim* whole = only_final_r(claims, "");
  if (whole) {
    set_both(s.target, r_value(whole->value));
    s.target.basis = whole->basis == ClaimBasis::effective ? Basis::effective : Basis::working;
  }
  const Basis basis = s.target.basis.value_or(Basis::working);
  for (Section& section : s.sections) {
    const Claim* own = only_final_r(claims, section.name);
    if (own && (own->basis == ClaimBasis::effective) == (basis == Basis::effective))
      section.target_r = r_value(own->value);
  }
  return whole != nullptr;
}

SoldLevels sell_inches(Survey& s, const std::vector<Claim>& claims, const Record& record,
                       const Tables& tables) {
  SoldLevels levels(s.sections.size());
  const auto of_inches = [](const Claim& c) { return is_thickness(c.kind); };
  if (record.sold || only_final_r(claims, "") ||
      std::none_of(claims.begin(), claims.end(), of_inches))
    return levels;
  Notes unused(tables);
  Blow blow;
  Proposal proposal = s.proposal.value_or(Proposal{});
  if (!s.proposal) proposal.material = "cellulose-loose";  // as `evaluate` takes it
  prepare_blow(blow, proposal, {s, tables, unused});
  if (blow.method != Method::blown) return levels;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    const Section& section = s.sections[i];
    const bool heated = section.below.value_or(Below::heated) == Below::heated;
    if (!is_floor(section.kind) || !heated || only_final_r(claims, section.name)) continue;
    const BuiltSection built = build_section(section, {s, tables, unused});
    if (built.unmeasured) continue;
    const BaseFloor floor = base_floor(built);
    const auto level = level_sold(claims, built, floor, blow);
    const auto under = [&](const BaseSpot& spot) { return level && spot.surface < *level; };
    if (std::none_of(floor.spots.begin(), floor.spots.end(), under)) continue;
    levels[i] = level;
  }
  aim_at_levels(s, tables, levels);
  return levels;
}

Evaluation sold_plan(const Survey& s, const Tables& tables, const SoldLevels& levels) {
  Evaluation plan = evaluate_left(s, tables, nullptr);
  if (std::none_of(levels.begin(), levels.end(), kKnown)) return plan;
  std::vector<LeftAs> left;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    const std::optional<Length> level =
        levels[i] ? levels[i] : plan.planned.high.sections[i].initial_level;
    left.push_back({level, true});
  }
  Evaluation sold = evaluate_left(s, tables, &left);
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (!levels[i]) {  // how its target stands, and what limits it
      sold.sections[i] = plan.sections[i];
      for (const End end : {End::low, End::high})
        sold.planned[end].sections[i] = plan.planned[end].sections[i];
    } else if (sold.planned.high.sections[i].adds()) {
      for (Planned* job : each(sold.planned)) job->sections[i].status = TopUpStatus::needed;
    }
  }
  return sold;
}

}  // namespace overjoist::parts
