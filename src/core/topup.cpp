// SPDX-License-Identifier: MIT
#include "overjoist/topup.hpp"

#include <algorithm>

#include "overjoist/diagnostics.hpp"

namespace overjoist {

Length NewFill::settled(Length initial) const { return chart ? chart->settled_for_initial(initial) : initial * (1.0 - settling); }
double NewFill::settled_slope(Length initial) const { return chart ? chart->settled_slope(initial) : 1.0 - settling; }
Resistance NewFill::r(Length t) const { return chart ? chart->r_at(t) : rho * t; }
Resistivity NewFill::r_slope(Length t) const { return chart ? chart->r_slope(t) : rho; }
std::optional<MassPerArea> NewFill::weight(Length t) const {
  if (chart) return chart->at(t).weight;
  if (!density) return {};
  return *density * t;
}

Length new_settled(const BaseSpot& spot, const NewFill& fill, Length level) {
  return level > spot.surface ? fill.settled(level - spot.surface) : Length{};
}

namespace {

/// Both paths of one spot after the blow, with their slopes per inch of level.
struct SpotAfter {
  double bay, joist, bay_slope, joist_slope;
};

// Joist path (method eq. 4): the wood counts up to the new surface, and above the joist top the new fill counts with
// the share of its thickness that lies there.
SpotAfter spot_after(const BaseFloor& floor, const BaseSpot& spot, const NewFill& fill, Length level) {
  SpotAfter s{spot.bay.us(), spot.joist.us(), 0.0, 0.0};
  if (!(level > spot.surface)) return s;
  const Length initial = level - spot.surface;
  const double t = fill.settled(initial).us(), dt = fill.settled_slope(initial);
  const double r = fill.r(inches(t)).us(), dr = fill.r_slope(inches(t)).us();
  s.bay += r;
  s.bay_slope = dr * dt;
  if (floor.under_deck || !(floor.framing.fraction > 0)) return s;
  const double z = spot.surface.us(), top = floor.framing.depth.us(), wood = floor.framing.wood.us();
  const double below = std::min(t, std::max(0.0, top - z));  // part of the new fill below the joist top
  const double over = t - below;
  s.joist += wood * below;
  if (!(over > 0)) {
    s.joist_slope = wood * dt;
    return s;
  }
  s.joist += r * over / t;
  // d(r·over/t)/dt with over = t - below, below constant here
  s.joist_slope = (dr * over / t + r * below / (t * t)) * dt;
  return s;
}

}  // namespace

FloorR floor_r(const BaseFloor& floor, const NewFill& fill, Length level) {
  const double f = floor.framing.fraction;
  double u_bay = 0, u_all = 0, du_bay = 0, du_all = 0;
  for (const BaseSpot& spot : floor.spots) {
    const SpotAfter s = spot_after(floor, spot, fill, level);
    const double bay = spot.share / s.bay, joist = spot.share / s.joist;
    const double dbay = bay * s.bay_slope / s.bay, djoist = joist * s.joist_slope / s.joist;
    u_bay += bay;
    du_bay += dbay;
    u_all += (1 - f) * bay + f * joist;
    du_all += (1 - f) * dbay + f * djoist;
  }
  FloorR result;
  result.working = r_value(1.0 / u_bay) - floor.ends.both();  // method eq. 7
  result.effective = r_value(1.0 / u_all);                    // method eq. 6
  result.working_slope = r_per_inch(du_bay / (u_bay * u_bay));
  result.effective_slope = r_per_inch(du_all / (u_all * u_all));
  return result;
}

namespace {

/// A level whose value reaches the target, found by doubling above the highest surface and joist top.
double upper_bracket(const BaseFloor& floor, const NewFill& fill, Basis basis, Resistance target) {
  double top = floor.framing.fraction > 0 ? floor.framing.depth.us() : 0.0;
  for (const BaseSpot& spot : floor.spots) top = std::max(top, spot.surface.us());
  for (double reach = 16.0; reach < 1e6; reach *= 2)
    if (floor_r(floor, fill, inches(top + reach)).of(basis) >= target) return top + reach;
  throw Error(ErrorCode::out_of_range, "proposal", "the new fill adds no R", "name a material with an R per inch");
}

}  // namespace

Length level_for(const BaseFloor& floor, const NewFill& fill, Basis basis, Resistance target, int* steps) {
  constexpr double kClose = 1e-8;  // R; a tenth of what the doc promises
  double lo = floor.spots.front().surface.us();
  for (const BaseSpot& spot : floor.spots) lo = std::min(lo, spot.surface.us());
  double hi = upper_bracket(floor, fill, basis, target), x = hi;
  int n = 0;
  for (; n < 200 && hi - lo > 1e-12 * std::max(1.0, hi); ++n) {
    const FloorR at = floor_r(floor, fill, inches(x));
    const double miss = at.of(basis).us() - target.us();
    (miss >= 0 ? hi : lo) = x;
    if (miss >= 0 && miss < kClose) break;
    const double slope = at.slope_of(basis).us();
    // A hair beyond Newton's point, so that the upper end closes in too.
    const double next = slope > 0 ? x - miss / slope + 0.3 * kClose / slope : lo;
    x = next > lo && next < hi ? next : (lo + hi) / 2;
  }
  if (steps) *steps = n;
  return inches(hi);
}

}  // namespace overjoist
