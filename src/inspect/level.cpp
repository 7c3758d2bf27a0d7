// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "evaluate/blown.hpp"
#include "evaluate/offer.hpp"
#include "inspect/parts.hpp"

// From bags and depths to the level and the layer that they make (method eq. 19a): the chart's own
// forward direction, inverted.
namespace overjoist::parts {
namespace {

constexpr double kSame =
    1e-6;  // inches: nearer than this a level is the planned one, reached by another order of sums
constexpr double kFarLevel = 240.0;  // inches: no attic is blown higher

/// The level at which the lowest spot has the chart's last row.
Length chart_end(const BlownFloor& f) {
  if (!f.blow.fill.chart) return inches(kFarLevel);
  Length lowest = f.floor.spots.front().surface;
  for (const BaseSpot& spot : f.floor.spots) lowest = std::min(lowest, spot.surface);
  return lowest + f.blow.chart.at(f.blow.chart.last_settled()).initial;
}

double bags_at(const BlownFloor& f, Length level) {
  if (f.built.survey->eave)
    return topped_up(f.built, f.floor, f.blow, {}, level).bags_exact.value_or(0.0);
  const FillQuantity q = fill_quantity(f.floor, f.blow.fill, level, f.built.survey->area,
                                       {f.blow.bag_net, f.blow.chart_deducts_framing});
  return q.bags.value_or(0.0) * (1.0 + f.blow.waste);
}

/// Root of a rising function between two ends, from below: false position, every third step
/// halving; within 1e-9 of the root.
template <class F>
double lower_root(double lo, double hi, double goal, F value) {
  constexpr double kClose = 1e-11, kHair = 1e-9;
  double below = value(lo) - goal, above = value(hi) - goal;
  for (int i = 0; i < 100 && hi - lo > kHair && below < 0 && above > 0; ++i) {
    const double x = i % 3 == 2 ? (lo + hi) / 2 : lo - below * (hi - lo) / (above - below),
                 miss = value(x) - goal;
    if (std::fabs(miss) <= kClose * std::fmax(1.0, goal))
      return miss <= 0 ? x : std::fmax(lo, x - kHair);
    (miss <= 0 ? lo : hi) = x;
    (miss <= 0 ? below : above) = miss;
  }
  return above <= 0 ? hi : lo;
}

Length snapped(Length level, Length planned) {
  return std::fabs((level - planned).us()) < kSame ? planned : level;
}

/// Without a chart the fill as light as it comes: what weight alone shows is then a most.
Density light(const Blow& blow) {
  const Density central = *blow.fill.density;
  return blow.material && blow.material->density_low
             ? std::min(central, *blow.material->density_low)
             : central;
}

/// The same blow of the lightest fill. A chart stays the chart.
Blow lightest_of(const Blow& blow) {
  Blow b = blow;
  if (!b.fill.chart && b.fill.density) b.fill.density = light(blow);
  return b;
}

Length lowest_surface(const BaseFloor& floor) {
  const auto at =
      std::min_element(floor.spots.begin(), floor.spots.end(),
                       [](const BaseSpot& a, const BaseSpot& b) { return a.surface < b.surface; });
  return at->surface;
}

}  // namespace

Length level_of_bags(const BlownFloor& given, double bags) {
  const Blow blow = given.lightest ? lightest_of(given.blow) : given.blow;
  const BlownFloor f{given.built, given.floor, blow, given.plan};
  const Length planned = *f.plan.initial_level,
               end = f.built.survey->eave ? planned : std::max(planned, chart_end(f));
  const bool enough = f.plan.bags_exact && reaches(bags, *f.plan.bags_exact);
  if (enough && f.built.survey->eave) return planned;
  double hi = planned.us();
  while (hi < end.us() && bags_at(f, inches(hi)) < bags) hi = std::min(2 * hi, end.us());
  const double level = lower_root(lowest_surface(f.floor).us(), hi, bags,
                                  [&](double x) { return bags_at(f, inches(x)); });
  return enough ? std::max(planned, inches(level)) : inches(level);
}

namespace {

/// A part of the area with its old surface and the depth that was read over it.
struct Pair {
  const BaseSpot* spot;
  Length depth;
  double share;
};

/// Both lists in rising order laid beside each other: the deepest reading over the deepest old
/// fill, as a flat blow settles.
std::vector<Pair> ranked_pairs(const BaseFloor& floor, const std::vector<Spot>& depths) {
  std::vector<const BaseSpot*> spots;
  for (const BaseSpot& s : floor.spots) spots.push_back(&s);
  std::stable_sort(spots.begin(), spots.end(),
                   [](const BaseSpot* a, const BaseSpot* b) { return a->surface < b->surface; });
  std::vector<Pair> pairs;
  constexpr double kNothing = 1e-12;
  double left_spot = spots.front()->share, left_depth = depths.front().share;
  for (std::size_t i = 0, j = 0; i < spots.size() && j < depths.size();) {
    const double share = std::min(left_spot, left_depth);
    if (share > kNothing) pairs.push_back({spots[i], depths[j].depth, share});
    left_spot -= share;
    left_depth -= share;
    if (left_spot <= kNothing && ++i < spots.size()) left_spot = spots[i]->share;
    if (left_depth <= kNothing && ++j < depths.size()) left_depth = depths[j].share;
  }
  return pairs;
}

/// Initial thickness of a layer that has settled to `t`, the chart's end at most.
Length initial_of(const NewFill& fill, Length t) {
  if (!fill.chart) return t / (1.0 - fill.settling);
  return fill.chart->at(std::min(t, fill.chart->last_settled())).initial;
}

/// Levels with the share of the area that each holds for.
struct LevelShare {
  Length level;
  double u = 0.0, share = 0.0;  ///< bay U of what it is blown on
};

double bay_u(const BaseFloor& floor, const NewFill& fill, Length level) {
  return 1.0 / (floor_r(floor, fill, level).working + floor.ends.both()).us();
}

std::vector<LevelShare> levels_of(const BlownFloor& f, const DepthsRead& depths) {
  std::vector<LevelShare> list;
  const Length end = chart_end(f);
  if (depths.kind == DepthKind::initial) {
    for (const Spot& d : depths.spots) {
      const Length level = std::min(d.depth, end);
      list.push_back({level, bay_u(f.floor, f.blow.fill, level), d.share});
    }
    return list;
  }
  BaseFloor one = f.floor;
  for (const Pair& p : ranked_pairs(f.floor, depths.spots)) {
    one.spots.assign(1, *p.spot);
    one.spots.front().share = 1.0;
    const Length t = std::max(Length{}, p.depth - p.spot->surface),
                 level = p.spot->surface + initial_of(f.blow.fill, t);
    list.push_back(
        {snapped(level, *f.plan.initial_level), bay_u(one, f.blow.fill, level), p.share});
  }
  return list;
}

}  // namespace

Length level_of_depths(const BlownFloor& f, const DepthsRead& depths) {
  const std::vector<LevelShare> levels = levels_of(f, depths);
  const auto other = [&](const LevelShare& l) { return l.level != levels.front().level; };
  if (std::none_of(levels.begin(), levels.end(), other)) return levels.front().level;
  double u = 0.0, shares = 0.0;
  for (const LevelShare& l : levels) {
    u += l.share * l.u;
    shares += l.share;
  }
  const Resistance working = r_value(shares / u) - f.floor.ends.both();
  const Length lowest = lowest_surface(f.floor);
  if (reaches(floor_r(f.floor, f.blow.fill, lowest).working.us(), working.us())) return lowest;
  const auto level = level_for(f.floor, f.blow.fill, Basis::working, working);
  return level ? snapped(std::min(*level, chart_end(f)), *f.plan.initial_level) : lowest;
}

MassPerArea weight_of_bags(const BlownFloor& f, double bags) {
  // What share of the section the fill takes: wood left out where the plan leaves it out, room
  // missing at the eave.
  const double planned = f.plan.field_weight()->us() * f.built.survey->area.us();
  const double filled = planned > 0 ? f.plan.added_mass->us() / planned : 1.0;
  return MassPerArea::from_us(bags * f.blow.bag_net.us() / (1.0 + f.blow.waste) /
                              (f.built.survey->area.us() * filled));
}

namespace {

/// Settled thickness of an even layer of so many bags; beyond the chart's end in the last row's
/// proportion.
Length settled_of_bags(const BlownFloor& f, double bags, Density density) {
  const MassPerArea weight = weight_of_bags(f, bags);
  if (!f.blow.fill.chart) return inches(weight.us() * 12.0 / density.us());
  const CoverageChart& chart = f.blow.chart;
  const double per_ft2 = weight.us() / f.blow.bag_net.us(), last = chart.last_settled().us();
  if (const double most = chart.at(chart.last_settled()).bags_per_ft2; per_ft2 >= most)
    return chart.last_settled() * (per_ft2 / most);
  return inches(
      lower_root(0.0, last, per_ft2, [&](double t) { return chart.at(inches(t)).bags_per_ft2; }));
}

/// Mean thickness of the new layer over all spots: initial as read, settled by the chart or as
/// read.
struct MeanLayer {
  std::optional<Length> initial;
  Length settled;
};

MeanLayer mean_layer(const BlownFloor& f, const DepthsRead& depths) {
  MeanLayer mean;
  if (depths.kind == DepthKind::settled) {
    for (const Pair& p : ranked_pairs(f.floor, depths.spots))
      mean.settled += std::max(Length{}, p.depth - p.spot->surface) * p.share;
    return mean;
  }
  Length initial;
  for (const Spot& d : depths.spots)
    for (const BaseSpot& spot : f.floor.spots)
      initial += std::max(Length{}, d.depth - spot.surface) * (d.share * spot.share);
  mean.initial = initial;
  mean.settled = f.blow.fill.settled(initial);
  return mean;
}

}  // namespace

LayerOfBags layer_of_bags(const BlownFloor& f, double bags) {
  const bool chart = f.blow.fill.chart != nullptr;
  const Density heavy = chart ? Density{} : *f.blow.fill.density;
  return {settled_of_bags(f, bags, heavy), settled_of_bags(f, bags, chart ? heavy : light(f.blow))};
}

Length layer_of_depths(const BlownFloor& f, const DepthsRead& depths) {
  return mean_layer(f, depths).settled;
}

NewLayerBuilt new_layer_built(const BlownFloor& f, std::optional<double> bags,
                              const DepthsRead* depths) {
  NewLayerBuilt layer;
  const NewFill& fill = f.blow.fill;
  std::optional<Length> lower;
  const auto take = [&](Length settled, std::optional<Resistance>& r) {
    if (fill.chart && !reaches(fill.chart->last_settled().us(), settled.us()))
      layer.beyond_chart = true;
    const Length within = fill.chart ? std::min(settled, fill.chart->last_settled()) : settled;
    r = fill.r(within);
    if (!lower || within < *lower) lower = within;
  };
  if (bags && f.plan.added_mass) {
    const LayerOfBags weighed = layer_of_bags(f, *bags);
    take(f.lightest ? weighed.most : weighed.least, layer.by_weight);
  }
  if (depths) {
    const MeanLayer mean = mean_layer(f, *depths);
    layer.initial = mean.initial;
    take(mean.settled, layer.by_thickness);
  }
  layer.settled = lower;
  if (lower) layer.r = fill.r(*lower);
  return layer;
}

Resistance most_of_level(const BlownFloor& f, Length level) {
  const NewFill& fill = f.blow.fill;
  Length mean;
  for (const BaseSpot& spot : f.floor.spots) mean += new_settled(spot, fill, level) * spot.share;
  if (fill.chart) return fill.r(std::min(mean, fill.chart->last_settled()));
  return (f.blow.material ? std::max(fill.rho, f.blow.material->high.value_or(fill.rho))
                          : fill.rho) *
         mean;
}

}  // namespace overjoist::parts
