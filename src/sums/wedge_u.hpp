// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "overjoist/wedge.hpp"
#include "sums/stretches.hpp"

/// U of a wedge (model 10a).
namespace overjoist {

/// Integrals of U over the levels of the wedge [U x in.].
struct USums {
  double bay = 0.0, both = 0.0;
};

/// A floor whose fill and wood stand in the wedge's arcs: every R between the films counts times
/// the arc's share of the upright way. Without its spots.
inline BaseFloor floor_in_arc(const BaseFloor& floor, double arc) {
  BaseFloor arced;
  arced.ends = floor.ends;
  arced.framing = floor.framing;
  arced.framing.wood = floor.framing.wood * arc;
  arced.under_deck = floor.under_deck;
  arced.stacks = floor.stacks;
  for (BayStack& stack : arced.stacks)
    for (BaySlice& slice : std::span(stack.slices).first(stack.count)) {
      slice.over_wood = slice.over_wood * arc;
      slice.beside = slice.beside * arc;
    }
  return arced;
}

inline std::vector<Run> runs_in_arc(std::vector<Run> runs, double arc) {
  for (Run& run : runs) {
    run.r *= arc;
    run.r_slope *= arc;
  }
  return runs;
}

/// Means of U over the levels of a wedge, for one floor and fill.
class WedgeU {
 public:
  WedgeU(const BaseFloor& floor, const NewFill& fill, const Eave& eave)
      : found_(floor),
        arc_(arc_factor(eave)),
        floor_(floor_in_arc(floor, arc_)),
        chart_(fill.chart != nullptr),
        runs_(runs_in_arc(runs_of(fill), arc_)) {}

  std::span<const Run> runs() const { return runs_; }

  /// What stays at a spot, where new fill lies on it up to the deck.
  BaseSpot in_arc(BaseSpot spot) const {
    const Resistance ends = found_.ends.both();
    for (Resistance* r : {&spot.bay, &spot.joist, &spot.planes}) *r = ends + (*r - ends) * arc_;
    return spot;
  }

  /// Of one spot. @param both  false: those of the bays alone
  USums at(const BaseSpot& spot, const Levels& levels, bool both) const {
    USums sum;
    const BaseSpot arced = in_arc(spot);
    smooth_stretches(floor_, spot, runs_, {lowest_at(spot, levels), levels.high},
                     [&](const Stretch& s) { add(sum, arced, s, both); });
    return mean(spot, as_found(spot), levels, sum);
  }

  SpotAfter as_found(const BaseSpot& spot) const {
    return spot_under(found_, spot, Length{}, Resistance{});
  }

  /// The mean from what the smooth stretches of a spot come to.
  static USums mean(const BaseSpot& spot, const SpotAfter& found, const Levels& levels,
                    const USums& smooth) {
    const double height = levels.height();
    // old fill reaches higher than the room
    const double covered = levels.up_to(spot.surface.us());
    const USums sum{covered / found.bay_r + smooth.bay, covered * found.both_u + smooth.both};
    const double rest = height > 0 ? (1.0 - levels.bare) / height : 0.0;
    const double still = height > 0 ? levels.bare : 1.0;
    return {still / found.bay_r + rest * sum.bay, still * found.both_u + rest * sum.both};
  }

  /// Adds what a smooth stretch of a spot `in_arc` comes to.
  // The bay's R is straight along a stretch, so its integral is a logarithm. So is the joist's, or
  // that of the planes, up to the joist tops, and without a chart above them; what is not straight
  // is summed over the logarithm of the bay's R, in which U changes slowly.
  void add(USums& sum, const BaseSpot& spot, const Stretch& s, bool both) const {
    const double ra = spot.bay.us() + s.run.r_at(s.from), rb = spot.bay.us() + s.run.r_at(s.to);
    const double bay = s.length() * mean_inverse(ra, rb), f = floor_.framing.fraction;
    sum.bay += bay;
    if (!both) return;
    const FramingMethod method = floor_.framing.method;
    const bool straight = !chart_ || (!s.above && method == FramingMethod::parallel);
    if (!(f > 0)) {
      sum.both += bay;
    } else if (straight && (method == FramingMethod::parallel || method == FramingMethod::planes)) {
      const SpotAfter a = after(spot, s.run, s.from), b = after(spot, s.run, s.to);
      sum.both += method == FramingMethod::planes
                      ? s.length() * mean_inverse(1.0 / a.both_u, 1.0 / b.both_u)
                      : (1.0 - f) * bay + f * s.length() * mean_inverse(a.joist_r, b.joist_r);
    } else {
      sum.both += summed(spot, s, rb / ra);
    }
  }

 private:
  SpotAfter after(const BaseSpot& spot, const Run& run, double x) const {
    return spot_under(floor_, spot, inches(run.t(x)), r_value(run.r_at(x)));
  }

  double summed(const BaseSpot& spot, const Stretch& s, double ratio) const {
    constexpr double kShort = 2.5, kThreeTo = 1.03, kFourTo = 1.12;
    // No path's R grows by more than the fill's: over a short stretch U is nearly straight, and few
    // points do.
    const double least =
        std::min({spot.bay.us() + s.run.r_at(s.from), spot.joist.us(), least_planes(spot)});
    const double grows = 1.0 + (s.run.r_at(s.to) - s.run.r_at(s.from)) / least;
    if (grows < kThreeTo) return evenly(spot, s, kThree);
    if (grows < kFourTo) return evenly(spot, s, kFour);
    return over_log(spot, s, ratio,
                    ratio < kShort ? std::span<const Node>(kFive) : std::span<const Node>(kTwelve));
  }

  double least_planes(const BaseSpot& spot) const {
    return floor_.framing.method == FramingMethod::parallel ? spot.bay.us() : spot.planes.us();
  }

  double evenly(const BaseSpot& spot, const Stretch& s, std::span<const Node> nodes) const {
    double total = 0.0;
    for (const Node& node : nodes)
      total += node.weight * after(spot, s.run, s.from + node.x * s.length()).both_u;
    return total * s.length();
  }

  double over_log(const BaseSpot& spot, const Stretch& s, double ratio,
                  std::span<const Node> nodes) const {
    constexpr double kFlat = 1e-6;
    const double log = std::log(ratio), grows = ratio - 1.0;
    double total = 0.0;
    for (const Node& node : nodes) {
      const double grown = grows < kFlat ? node.x * grows : std::expm1(node.x * log);
      const double share = grows < kFlat ? node.x : grown / grows;  // of the stretch
      total += node.weight * (1.0 + grown) * after(spot, s.run, s.from + share * s.length()).both_u;
    }
    return total * s.length() * (grows < kFlat ? 1.0 : log / grows);
  }

  const BaseFloor& found_;
  double arc_;
  BaseFloor floor_;  ///< in the arcs
  bool chart_;
  std::vector<Run> runs_;  ///< in the arcs
};

}  // namespace overjoist
