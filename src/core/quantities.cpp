// SPDX-License-Identifier: MIT
#include "overjoist/quantities.hpp"

#include <algorithm>

namespace overjoist {

FillQuantity fill_quantity(const BaseFloor& floor, const NewFill& fill, Length level, Area area, std::optional<Mass> bag_net,
                           bool chart_deducts_framing) {
  FillQuantity q;
  const bool deduct = !fill.chart || !chart_deducts_framing;
  double mass = 0, bags = 0, weight = 0;
  bool first = true;
  for (const BaseSpot& spot : floor.spots) {
    const Length initial = level > spot.surface ? level - spot.surface : Length{};
    const Length t = new_settled(spot, fill, level);
    q.mean += t * spot.share;
    q.initial_mean += initial * spot.share;
    q.settled_level += (spot.surface + t) * spot.share;
    q.least = first ? t : std::min(q.least, t);
    q.initial_least = first ? initial : std::min(q.initial_least, initial);
    q.settled_level_least = first ? spot.surface + t : std::min(q.settled_level_least, spot.surface + t);
    q.greatest = std::max(q.greatest, t);
    q.initial_greatest = std::max(q.initial_greatest, initial);
    first = false;
    const double per_area = fill.weight(t).value_or(MassPerArea{}).us();
    const Length below = std::min(t, std::max(Length{}, floor.framing.depth - spot.surface));
    // Wood stands in the part of the new fill below the joist tops; above them the fill covers everything.
    const double filled = deduct && t > Length{} ? 1.0 - floor.framing.fraction * (below / t) : 1.0;
    weight += spot.share * per_area;
    mass += spot.share * per_area * filled;
    if (fill.chart) bags += spot.share * fill.chart->at(t).bags_per_ft2 * filled;
  }
  if (!fill.chart && !fill.density) return q;
  q.mass = Mass::from_us(mass * area.us());
  q.added_weight = MassPerArea::from_us(weight);
  if (fill.chart)
    q.bags = bags * area.us();
  else if (bag_net)
    q.bags = *q.mass / *bag_net;
  return q;
}

std::optional<CeilingWeight> ceiling_weight(const BaseFloor& floor, const NewFill& fill, Length level) {
  CeilingWeight w;
  for (const BaseSpot& spot : floor.spots) {
    const auto added = fill.weight(new_settled(spot, fill, level));
    if (!added) return {};
    const MassPerArea total = spot.weight + *added;
    w.mean += total * spot.share;
    w.greatest = std::max(w.greatest, total);
  }
  return w;
}

const CeilingLimit* ceiling_limit(const Tables& tables, std::string_view board, Length spacing) {
  const CeilingLimit* best = nullptr;
  for (const CeilingLimit& row : tables.limits)
    if (row.board == board && reaches(row.spacing.us(), spacing.us()) && (!best || row.spacing < best->spacing)) best = &row;
  return best;
}

Length level_within_weight(const BaseFloor& floor, const NewFill& fill, Length level, MassPerArea limit) {
  double lo = 0, hi = round_down(level.us(), kLevelStep) / kLevelStep;  // in steps; lo is taken to fit
  while (hi - lo > 0.5) {
    const double mid = std::ceil((lo + hi) / 2);
    const auto w = ceiling_weight(floor, fill, inches(mid * kLevelStep));
    if (w && reaches(limit.us(), w->greatest.us()))
      lo = mid;
    else
      hi = mid - 1;
  }
  return inches(lo * kLevelStep);
}

}  // namespace overjoist
