// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

#include "overjoist/wedge.hpp"

/// A wedge cut into stretches along which its R runs straight, and how means over them are taken.
namespace overjoist {

/// The wedge as a range of levels: the floor blown to every level from `low` to `high`, and bare
/// over the outermost share.
struct Levels {
  double low = 0.0, high = 0.0;  ///< inches; high >= low
  double bare = 0.0;             ///< share of the strip's width
  double height() const { return high - low; }
  double up_to(double surface) const { return std::clamp(surface, low, high) - low; }
};

inline Levels levels_of(const EaveStrip& strip, Length level) {
  const double room = (strip.eave.heel - strip.eave.vent_gap - strip.eave.baffle).us();
  const double foot = std::max(0.0, room);
  Levels l{foot, std::max(foot, std::min(level, strip_room(strip)).us())};
  const Length width = strip_width(strip, level);  // 0 where nothing is blown
  l.bare = width > Length{} ? std::min(1.0, eave_distance(strip.eave, Length{}) / width) : 1.0;
  return l;
}

/// The new layer over a range of initial thicknesses in which settled thickness and R run straight.
struct Run {
  double to;              ///< the range's upper end; its lower end is that of the run before, or 0
  double at, settled, r;  ///< a point of the range
  double settled_slope, r_slope;  ///< per inch of initial thickness
  double t(double x) const { return settled + (x - at) * settled_slope; }
  double r_at(double x) const { return r + (x - at) * r_slope; }
};

/// One run without a chart, with it one for each row and one beyond the last.
inline std::vector<Run> runs_of(const NewFill& fill) {
  constexpr double kEnd = std::numeric_limits<double>::infinity();
  if (!fill.chart)
    return {{kEnd, 0.0, 0.0, 0.0, 1.0 - fill.settling, fill.rho.us() * (1.0 - fill.settling)}};
  std::vector<Run> runs;
  double x = 0.0, t = 0.0, r = 0.0;
  for (const CoverageChart::Knot& k : fill.chart->knots()) {
    const double dx = k.initial.us() - x;
    runs.push_back({k.initial.us(), x, t, r, (k.settled.us() - t) / dx, (k.r.us() - r) / dx});
    x = k.initial.us();
    t = k.settled.us();
    r = k.r.us();
  }
  runs.push_back({kEnd, x, t, r, t / x, r / x});  // in the last row's proportion
  return runs;
}

/// A stretch of initial thicknesses over which every path is smooth.
struct Stretch {
  double from, to;
  const Run& run;
  bool above;  ///< the new fill reaches over the joist tops
  double length() const { return to - from; }
};

/// Initial thickness at a spot where the wedge is lowest.
inline double lowest_at(const BaseSpot& spot, const Levels& l) {
  return std::max(0.0, l.low - spot.surface.us());
}

/// From an initial thickness of a spot up to the wedge's highest level, in inches.
struct Reach {
  double at, highest;
};

/// Calls `visit` for each smooth stretch of a spot on that way.
template <class F>
void smooth_stretches(const BaseFloor& floor, const BaseSpot& spot, std::span<const Run> runs,
                      const Reach& reach, F visit) {
  const double surface = spot.surface.us(), end = reach.highest - surface;
  double at = reach.at;
  const double below = floor.framing.depth.us() - surface;
  const auto first =
      std::partition_point(runs.begin(), runs.end(), [at](const Run& run) { return run.to <= at; });
  for (auto r = first; r != runs.end() && end > at; ++r) {
    const Run& run = *r;
    const double to = std::min(run.to, end);
    const double top =
        run.at + (below - run.settled) /
                     run.settled_slope;  // where the settled fill stands level with the joist tops
    if (top > at && top < to) {
      visit(Stretch{at, top, run, false});
      at = top;
    }
    visit(Stretch{at, to, run, top <= at});
    at = to;
  }
}

// Gauss-Legendre rules on [0, 1], the upper half of the points: x and 1 - x share a weight
// (Abramowitz and Stegun 25.4.30).
struct Node {
  double x, weight;
};
template <std::size_t N>
constexpr std::array<Node, N> both_halves(std::span<const Node> upper) {
  std::array<Node, N> all{};
  std::size_t n = 0;
  for (const Node& node : upper) {
    all[n++] = {(1.0 + node.x) / 2.0, node.weight / 2.0};
    if (node.x > 0) all[n++] = {(1.0 - node.x) / 2.0, node.weight / 2.0};
  }
  return all;
}
constexpr Node kHalf3[] = {{0.0, 0.888888888888889}, {0.774596669241483, 0.555555555555556}};
constexpr Node kHalf4[] = {{0.339981043584856, 0.652145154862546},
                           {0.861136311594053, 0.347854845137454}};
constexpr Node kHalf5[] = {{0.0, 0.568888888888889},
                           {0.538469310105683, 0.478628670499366},
                           {0.906179845938664, 0.236926885056189}};
constexpr Node kHalf12[] = {
    {0.125233408511469, 0.249147045813403}, {0.367831498998180, 0.233492536538355},
    {0.587317954286617, 0.203167426723066}, {0.769902674194305, 0.160078328543346},
    {0.904117256370475, 0.106939325995318}, {0.981560634246719, 0.047175336386512}};
constexpr auto kThree = both_halves<3>(kHalf3);
constexpr auto kFour = both_halves<4>(kHalf4);
constexpr auto kFive = both_halves<5>(kHalf5);
constexpr auto kTwelve = both_halves<12>(kHalf12);

/// Mean of 1/r over a stretch along which r runs straight from `a` to `b`, both > 0.
inline double mean_inverse(double a, double b) {
  constexpr double kSeries = 0.2;
  const double x = (b - a) / a;
  if (std::fabs(x) > kSeries) return std::log1p(x) / x / a;
  const double z = x / (2.0 + x),
               q = z * z;  // log(1+x) = 2 artanh z; z < 1/11 here: the next term is below 2e-16
  const double sum =
      1.0 + q * (1.0 / 3 + q * (1.0 / 5 + q * (1.0 / 7 + q * (1.0 / 9 + q * (1.0 / 11 + q / 13)))));
  return 2.0 * sum / (2.0 + x) / a;
}

}  // namespace overjoist
