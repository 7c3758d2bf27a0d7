// SPDX-License-Identifier: MIT
#include "overjoist/quantities.hpp"

#include <algorithm>

namespace overjoist {

FillQuantity fill_quantity(const BaseFloor& floor, const NewFill& fill, Length level, Area area,
                           const Bagging& bagging) {
  const auto& [bag_net, chart_deducts_framing] = bagging;
  FillQuantity q;
  const bool deduct = !fill.chart || !chart_deducts_framing;
  double mass = 0, bags = 0, weight = 0;
  CeilingWeight ceiling;
  bool first = true;
  for (const BaseSpot& spot : floor.spots) {
    const Length initial = level > spot.surface ? level - spot.surface : Length{};
    const Length t = new_settled(spot, fill, level);
    q.mean += t * spot.share;
    q.initial_mean += initial * spot.share;
    q.settled_level += (spot.surface + t) * spot.share;
    q.least = first ? t : std::min(q.least, t);
    q.initial_least = first ? initial : std::min(q.initial_least, initial);
    q.greatest = std::max(q.greatest, t);
    q.initial_greatest = std::max(q.initial_greatest, initial);
    first = false;
    const MassPerArea added = fill.weight(t).value_or(MassPerArea{});
    const double per_area = added.us();
    ceiling.mean += (spot.weight + added) * spot.share;
    ceiling.greatest = std::max(ceiling.greatest, spot.weight + added);
    const Length below = std::min(t, std::max(Length{}, floor.framing.depth - spot.surface));
    // Wood stands in the part of the new fill below the joist tops; above them the fill covers
    // everything.
    const double filled =
        deduct && below > Length{} ? 1.0 - floor.framing.fraction * (below / t) : 1.0;
    weight += spot.share * per_area;
    mass += spot.share * per_area * filled;
    if (fill.chart) bags += spot.share * fill.chart->at(t).bags_per_ft2 * filled;
  }
  if (!fill.chart && !fill.density) return q;
  q.mass = Mass::from_us(mass * area.us());
  q.added_weight = MassPerArea::from_us(weight);
  q.ceiling = ceiling;
  if (fill.chart)
    q.bags = bags * area.us();
  else if (bag_net)
    q.bags = *q.mass / *bag_net;
  return q;
}

const CeilingLimit* ceiling_limit(const Tables& tables, std::string_view board, Length spacing) {
  const CeilingLimit* best = nullptr;
  for (const CeilingLimit& row : tables.limits)
    if (row.board == board && reaches(row.spacing.us(), spacing.us()) &&
        (!best || row.spacing < best->spacing))
      best = &row;
  return best;
}

std::optional<Length> level_within_weight(const BaseFloor& floor, const NewFill& fill, Length level,
                                          MassPerArea limit) {
  Length most = level;  // every spot by itself: what it may still carry, as initial thickness
  for (const BaseSpot& spot : floor.spots) {
    if (!reaches(limit.us(), spot.weight.us())) return {};
    const Length room =
        limit > spot.weight ? fill.initial_for_weight(limit - spot.weight) : Length{};
    most = std::min(most, spot.surface + room);
  }
  return inches(round_down(most.us(), kLevelStep));
}

}  // namespace overjoist
