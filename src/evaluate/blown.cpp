// SPDX-License-Identifier: MIT
#include <fmt/core.h>
#include <algorithm>
#include <limits>

#include "evaluate/blown.hpp"
#include "evaluate/eave.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/found.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "overjoist/diagnostics.hpp"

namespace overjoist::parts {

namespace {

struct Limit {
  LimitedBy by = LimitedBy::nothing;
  double level = 1e9;  ///< inches
};

/// The greatest initial level that room and chart allow.
Limit level_limit(const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  Limit limit;
  const auto take = [&](LimitedBy by, Length level) {
    if (level.us() < limit.level) limit = {by, level.us()};
  };
  if (built.under_deck) take(LimitedBy::deck, built.framing.depth);
  if (built.survey->headroom) take(LimitedBy::headroom, *built.survey->headroom);
  if (const auto strip = strip_of(built))
    take(LimitedBy::headroom, std::max(Length{}, strip_room(*strip)));
  if (blow.fill.chart) {
    Length lowest = floor.spots.front().surface;
    for (const BaseSpot& spot : floor.spots) lowest = std::min(lowest, spot.surface);
    take(LimitedBy::chart, lowest + blow.chart.at(blow.chart.last_settled()).initial);
  }
  return limit;
}

}  // namespace

Length level_room(const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  return inches(level_limit(built, floor, blow).level);
}

namespace {

std::optional<CeilingWeight> fill_in(TopUp& t, const BuiltSection& built, const BaseFloor& floor,
                                     const Blow& blow, Length level) {
  const FloorR after = floor_r(floor, blow.fill, level);
  t.initial_level = level;
  t.working_r = after.working;
  t.effective_r = after.effective;
  const FillQuantity q = fill_quantity(floor, blow.fill, level, built.survey->area,
                                       {blow.bag_net, blow.chart_deducts_framing});
  t.settled_level = q.settled_level;
  t.new_depth = NewDepth{q.least, q.mean, q.greatest};
  t.new_depth_initial = NewDepth{q.initial_least, q.initial_mean, q.initial_greatest};
  t.added_mass = q.mass;
  t.added_weight = q.added_weight;
  if (blow.method == Method::sprayed)
    t.board_ft_exact = built.survey->area.us() * q.mean.us() *
                       (1.0 + blow.waste);  // 1 ft2 by 1 in., wood not taken out
  else if (q.bags)
    t.bags_exact = *q.bags * (1.0 + blow.waste);
  return q.ceiling;
}

void weigh(TopUp& t, const CeilingWeight& w, const BuiltSection& built, const BaseFloor& floor,
           const Blow& blow) {
  const bool known = weight_known(built);
  t.weight = w.mean;
  if (t.eave && t.added_weight && t.eave->weight_field)
    *t.weight += *t.added_weight - *t.eave->weight_field;
  t.weight_greatest = w.greatest;
  t.weight_at_least = !known;
  if (!t.weight_limit || reaches(t.weight_limit->us(), w.greatest.us())) return;
  const auto level = known
                         ? level_within_weight(floor, blow.fill, *t.initial_level, *t.weight_limit)
                         : std::nullopt;
  if (!level) return;
  const auto strip = strip_of(built);
  const StripR r = strip_r(floor, blow.fill, strip ? &*strip : nullptr, *level);
  t.within_weight = WithinWeight{*level, r.working, r.effective};
}

/// What a level gives: R, depths, amounts and weight, with the eave in them.
void blow_to(TopUp& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow,
             Length level) {
  const auto ceiling = fill_in(t, built, floor, blow, level);
  apply_eave(t, built, floor, blow);
  if (t.bags_exact) t.bags = round_up(*t.bags_exact, 1.0);
  if (ceiling) weigh(t, *ceiling, built, floor, blow);
}

// The level that the target takes, on an open floor the joist tops at least, both rounded up. Where
// that does not fit, the room itself, whatever the target: one whose exact level fits is reached,
// and a higher target never takes less.
Length planned_level(TopUp& t, const BuiltSection& built, const BaseFloor& floor,
                     const Blow& blow) {
  double level = t.level_exact ? round_up(t.level_exact->us(), kLevelStep)
                               : std::numeric_limits<double>::infinity();
  if (blow.method == Method::blown && !built.under_deck && built.framing.fraction > 0)
    level = std::max(level, round_up(built.framing.depth.us(), kLevelStep));
  const Limit room = level_limit(built, floor, blow);
  if (reaches(room.level, level)) return inches(level);
  if (!t.level_exact || !reaches(room.level, t.level_exact->us())) {
    t.status = TopUpStatus::unreachable;
    t.limited_by = room.by;
  }
  return inches(std::max(0.0, room.level));
}

TopUp planned(const BuiltSection& built, const BaseFloor& floor, const FloorR& now,
              const Blow& blow, const Aim& aim) {
  TopUp t;
  t.target_r = aim.target;
  t.basis = aim.basis;
  if (aim.limit) t.weight_limit = aim.limit->limit;
  t.working_r = now.working;
  t.effective_r = now.effective;
  if (reaches(now.of(aim.basis).us(), t.target_r.us())) {
    t.status = TopUpStatus::met;
    t.bags = t.bags_exact = 0.0;
    return t;
  }
  if (blow.method == Method::laid) {
    lay_batts(t, built, floor, blow);
    return t;
  }
  if (blow.method == Method::sprayed) check_bare(built, floor);
  t.level_exact = level_for(floor, blow.fill, aim.basis, t.target_r);
  blow_to(t, built, floor, blow, planned_level(t, built, floor, blow));
  return t;
}

}  // namespace

TopUp top_up(const BuiltSection& built, const BaseFloor& floor, const FloorR& now, const Blow& blow,
             const Aim& aim) {
  TopUp t = planned(built, floor, now, blow, aim);
  t.reached = reaches(t.after().us(), t.target_r.us());
  return t;
}

TopUp topped_up(const BuiltSection& built, const BaseFloor& floor, const Blow& blow, const Aim& aim,
                Length level) {
  TopUp t;
  t.target_r = aim.target;
  t.basis = aim.basis;
  if (aim.limit) t.weight_limit = aim.limit->limit;
  const bool adds = std::any_of(floor.spots.begin(), floor.spots.end(),
                                [&](const BaseSpot& spot) { return level > spot.surface; });
  if (adds) {
    blow_to(t, built, floor, blow, level);
  } else {
    const FloorR now = floor_r(floor, blow.fill, Length{});
    t.working_r = now.working;
    t.effective_r = now.effective;
    t.bags = t.bags_exact = 0.0;
  }
  t.reached = reaches(t.after().us(), t.target_r.us());
  t.status = t.reached ? TopUpStatus::met : TopUpStatus::needed;
  return t;
}

}  // namespace overjoist::parts
