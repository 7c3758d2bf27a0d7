// SPDX-License-Identifier: MIT
#include "overjoist/topup.hpp"

#include <algorithm>
#include <limits>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

Length NewFill::settled(Length initial) const {
  return chart ? chart->settled_for_initial(initial) : initial * (1.0 - settling);
}
double NewFill::settled_slope(Length initial) const {
  return chart ? chart->settled_slope(initial) : 1.0 - settling;
}
Resistance NewFill::r(Length t) const { return chart ? chart->r_at(t) * label_share : rho * t; }
Resistivity NewFill::r_slope(Length t) const {
  return chart ? chart->r_slope(t) * label_share : rho;
}
std::optional<MassPerArea> NewFill::weight(Length t) const {
  if (chart) return chart->at(t).weight;
  if (!density) return {};
  return *density * t;
}

Length NewFill::initial_for_weight(MassPerArea weight) const {
  if (chart) return chart->initial_for_weight(weight);
  if (!density || !(*density > Density{})) return {};
  return inches(weight.us() * 12.0 / density->us() / (1.0 - settling));
}

Length new_settled(const BaseSpot& spot, const NewFill& fill, Length level) {
  return level > spot.surface ? fill.settled(level - spot.surface) : Length{};
}

namespace {

/// R of a path after the blow, and its slope per inch of level.
struct PathAfter {
  double r, slope;
};

/// The new layer at one spot.
struct NewLayer {
  double t = 0, dt = 0, r = 0, dr = 0;  ///< settled thickness, d t / d level, R, d R / d t
};

NewLayer new_layer(const BaseSpot& spot, const NewFill& fill, Length level) {
  if (!(level > spot.surface)) return {};
  const Length initial = level - spot.surface;
  if (!fill.chart) {
    const double dt = 1.0 - fill.settling, t = initial.us() * dt;
    return {t, dt, fill.rho.us() * t, fill.rho.us()};
  }
  const Length t = fill.settled(initial);
  return {t.us(), fill.settled_slope(initial), fill.r(t).us(), fill.r_slope(t).us()};
}

PathAfter bay_after(const BaseSpot& spot, const NewLayer& layer) {
  return {spot.bay.us() + layer.r, layer.dr * layer.dt};
}

// Joist path (method eq. 4): the wood counts up to the new surface, and above the joist top the new
// fill counts with the share of its thickness that lies there.
PathAfter joist_after(const BaseFloor& floor, const BaseSpot& spot, const NewLayer& layer) {
  if (!(layer.t > 0) || floor.under_deck) return {spot.joist.us(), 0.0};
  const double wood = floor.framing.wood.us();
  const double below =
      std::min(layer.t, std::max(0.0, floor.framing.depth.us() - spot.surface.us()));
  const double over = layer.t - below, r = spot.joist.us() + wood * below;
  if (!(over > 0)) return {r, wood * layer.dt};
  // d(r·over/t)/dt with over = t - below, below constant here
  return {r + layer.r * over / layer.t,
          (layer.dr * over / layer.t + layer.r * below / (layer.t * layer.t)) * layer.dt};
}

/// Isothermal planes (method eq. 5): the new fill below the joist top is one band with the wood,
/// above it a plane of its own.
PathAfter planes_after(const BaseFloor& floor, const BaseSpot& spot, const NewLayer& layer) {
  if (!(layer.t > 0)) return {spot.planes.us(), 0.0};
  const double t = layer.t, f = floor.framing.fraction, wood = floor.framing.wood.us();
  const double top = floor.under_deck ? t : floor.framing.depth.us() - spot.surface.us();
  const double below = std::min(t, std::max(0.0, top)), over = t - below;
  PathAfter after{spot.planes.us() + layer.r * over / t, 0.0};
  if (over > 0) after.slope = (layer.dr * over / t + layer.r * below / (t * t)) * layer.dt;
  if (!(below > 0)) return after;
  const double fill = layer.r * below / t,
               band = band_r(floor.framing, inches(below), r_value(fill)).us();
  after.r += band;
  // d band = band² (f / (wood·h²)·dh + (1 - f) / fill²·dfill): the band grows with t up to the
  // joist top, then only its fill changes
  if (over > 0)
    after.slope += band * band * (1 - f) / (fill * fill) * below *
                   (layer.dr / t - layer.r / (t * t)) * layer.dt;
  else
    after.slope +=
        band * band * (f / (wood * t * t) + (1 - f) * layer.dr / (fill * fill)) * layer.dt;
  return after;
}

/// Two coupled columns under the new layer (method eq. 5a). Their slope is taken over a hair of
/// level: it leads the bracketed solver and stands in no result.
PathAfter columns_after(const BaseFloor& floor, const BaseSpot& spot, const NewLayer& layer) {
  const auto at = [&](double t, double r) {
    BayStack stack = floor.stacks[spot.stack];
    stack.surface = std::max(stack.surface, spot.surface);
    stack.add_loose(floor.framing, inches(t), r_value(r));
    return two_column_r(floor.ends, floor.framing, stack).us();
  };
  const double r = at(layer.t, layer.r);
  if (!(layer.dt > 0)) return {r, 0.0};
  constexpr double kHair = 1e-4;  // inches
  const double dt = layer.dt * kHair;
  return {r, (at(layer.t + dt, layer.r + layer.dr * dt) - r) / kHair};
}

/// Both paths as one R, by the framing's method.
PathAfter both_after(const BaseFloor& floor, const BaseSpot& spot, const NewLayer& layer) {
  if (floor.framing.method == FramingMethod::two_column) return columns_after(floor, spot, layer);
  const double f = floor.framing.fraction;
  const PathAfter planes = planes_after(floor, spot, layer);
  if (floor.framing.method == FramingMethod::planes) return planes;
  const PathAfter bay = bay_after(spot, layer), joist = joist_after(floor, spot, layer);
  const double r = 1 / (f / joist.r + (1 - f) / bay.r);
  const double slope =
      r * r * (f * joist.slope / (joist.r * joist.r) + (1 - f) * bay.slope / (bay.r * bay.r));
  return {(r + planes.r) / 2, (slope + planes.slope) / 2};
}

/// Sum of share / R over the spots, and minus its slope.
struct SumOfU {
  double u = 0, fall = 0;
  void add(double share, PathAfter path) {
    const double inverse_r = 1.0 / path.r, part = share * inverse_r;
    u += part;
    fall += part * path.slope * inverse_r;
  }
  double slope_of_r() const { return fall / (u * u); }
};

/// The basis value of a floor at a level, and its slope: what the solver needs, no more.
PathAfter value_at(const BaseFloor& floor, const NewFill& fill, Basis basis, double level) {
  const double f = basis == Basis::effective ? floor.framing.fraction : 0.0;
  SumOfU sum;
  for (const BaseSpot& spot : floor.spots) {
    const NewLayer layer = new_layer(spot, fill, inches(level));
    if (f > 0 && floor.framing.method != FramingMethod::parallel) {
      sum.add(spot.share, both_after(floor, spot, layer));
      continue;
    }
    sum.add((1 - f) * spot.share, bay_after(spot, layer));
    if (f > 0) sum.add(f * spot.share, joist_after(floor, spot, layer));
  }
  return {1.0 / sum.u - (basis == Basis::working ? floor.ends.both().us() : 0.0), sum.slope_of_r()};
}

}  // namespace

FloorR floor_r(const BaseFloor& floor, const NewFill& fill, Length level) {
  const PathAfter working = value_at(floor, fill, Basis::working, level.us());
  const PathAfter effective = value_at(floor, fill, Basis::effective, level.us());
  return {r_value(std::max(0.0, working.r)), r_value(effective.r), r_per_inch(working.slope),
          r_per_inch(effective.slope)};  // method eq. 7, 6
}

namespace {

SpotAfter under_layer(const BaseFloor& floor, const BaseSpot& spot, const NewLayer& layer) {
  const double f = floor.framing.fraction;
  SpotAfter after;
  after.bay_r = bay_after(spot, layer).r;
  after.joist_r = joist_after(floor, spot, layer).r;
  if (f > 0 && floor.framing.method != FramingMethod::parallel)
    after.both_u = 1.0 / both_after(floor, spot, layer).r;
  else
    after.both_u = (1.0 - f) / after.bay_r + (f > 0 ? f / after.joist_r : 0.0);
  return after;
}

}  // namespace

SpotAfter spot_after(const BaseFloor& floor, const BaseSpot& spot, const NewFill& fill,
                     Length level) {
  return under_layer(floor, spot, new_layer(spot, fill, level));
}

SpotAfter spot_under(const BaseFloor& floor, const BaseSpot& spot, Length settled, Resistance r) {
  return under_layer(floor, spot, {settled.us(), 0.0, r.us(), 0.0});
}

CoveredScatter floor_scatter(const BaseFloor& floor, const NewFill& fill, const LevelOf& at,
                             bool each) {
  CoveredScatter scatter(each);
  for (const BaseSpot& spot : floor.spots) {
    const NewLayer layer = new_layer(spot, fill, at.level);
    scatter.add({spot.spot, spot.share, spot.bare}, at.basis == Basis::working
                                                        ? 1.0 / bay_after(spot, layer).r
                                                        : under_layer(floor, spot, layer).both_u);
  }
  return scatter;
}

namespace {

/// Where the search starts: even fill over the mean surface would need about this level.
double first_guess(const BaseFloor& floor, const NewFill& fill, double target) {
  double mean = 0.0, r = 0.0;
  for (const BaseSpot& spot : floor.spots) {
    mean += spot.share * spot.surface.us();
    r += spot.share * (spot.bay - floor.ends.both()).us();
  }
  const Length probe = inches(10);
  const double per_inch = fill.r(fill.settled(probe)).us() / probe.us();
  if (!(per_inch > 0))
    throw Error(ErrorCode::out_of_range, "proposal", "the new fill adds no R",
                "name a material with an R per inch");
  return mean + std::max(0.0, target - r) / per_inch;
}

}  // namespace

std::optional<Length> level_for(const BaseFloor& floor, const NewFill& fill, Basis basis,
                                Resistance target, int* steps) {
  constexpr double kClose = 1e-8;  // R; a tenth of what the doc promises
  double lo = floor.spots.front().surface.us();
  for (const BaseSpot& spot : floor.spots) lo = std::min(lo, spot.surface.us());
  double hi = std::numeric_limits<double>::infinity();
  double x = std::max(first_guess(floor, fill, target.us()), lo + kLevelStep);
  int n = 0;
  constexpr double kFar = 1e5;  // inches: beyond it nothing is gained
  for (; n < 200 && x < kFar && hi - lo > 1e-12 * std::max(1.0, x); ++n) {
    const PathAfter at = value_at(floor, fill, basis, x);
    const double miss = at.r - target.us();
    (miss >= 0 ? hi : lo) = x;
    if (miss >= 0 && miss < kClose) break;
    // A hair beyond Newton's point, so that the upper end closes in too.
    const double next = at.slope > 0 ? x - miss / at.slope + 0.3 * kClose / at.slope : lo;
    if (next > lo && next < hi)
      x = next;
    else
      x = hi < std::numeric_limits<double>::infinity() ? (lo + hi) / 2 : 2 * x;
  }
  if (steps) *steps = n;
  if (hi == std::numeric_limits<double>::infinity()) return {};
  return inches(hi);
}

}  // namespace overjoist
