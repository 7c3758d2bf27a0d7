// SPDX-License-Identifier: MIT
#include "overjoist/wedge.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <span>
#include <vector>

namespace overjoist {

Length strip_width(const EaveStrip& strip, Length level) {
  return level > Length{} ? std::min(strip.most, eave_distance(strip.eave, level)) : Length{};
}

Length strip_room(const EaveStrip& strip) {
  const Eave& e = strip.eave;
  return e.heel - e.vent_gap - e.baffle + strip.most * (e.rise_in_12 / 12.0);
}

namespace {

/// The wedge as a range of levels: the floor blown to every level from `low` to `high`, and bare
/// over the outermost share.
struct Levels {
  double low = 0.0, high = 0.0;  ///< inches; high >= low
  double bare = 0.0;             ///< share of the strip's width
};

Levels levels_of(const EaveStrip& strip, Length level) {
  const double room = (strip.eave.heel - strip.eave.vent_gap - strip.eave.baffle).us();
  Levels l;
  l.low = std::max(0.0, room);
  l.high = std::max(l.low, std::min(level, strip_room(strip)).us());
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
std::vector<Run> runs_of(const NewFill& fill) {
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
double lowest_at(const BaseSpot& spot, const Levels& l) {
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
double mean_inverse(double a, double b) {
  constexpr double kSeries = 0.2;
  const double x = (b - a) / a;
  if (std::fabs(x) > kSeries) return std::log1p(x) / x / a;
  const double z = x / (2.0 + x),
               q = z * z;  // log(1+x) = 2 artanh z; z < 1/11 here: the next term is below 2e-16
  const double sum =
      1.0 + q * (1.0 / 3 + q * (1.0 / 5 + q * (1.0 / 7 + q * (1.0 / 9 + q * (1.0 / 11 + q / 13)))));
  return 2.0 * sum / (2.0 + x) / a;
}

/// Integrals of U over the levels of the wedge [U x in.].
struct USums {
  double bay = 0.0, both = 0.0;
};

/// A floor whose fill and wood stand in the wedge's arcs: every R between the films counts times
/// the arc's share of the upright way. Without its spots.
BaseFloor floor_in_arc(const BaseFloor& floor, double arc) {
  BaseFloor arced;
  arced.ends = floor.ends;
  arced.framing = floor.framing;
  arced.framing.wood = floor.framing.wood * arc;
  arced.under_deck = floor.under_deck;
  return arced;
}

std::vector<Run> runs_in_arc(std::vector<Run> runs, double arc) {
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
    const double height = levels.high - levels.low;
    // old fill reaches higher than the room
    const double covered = std::clamp(spot.surface.us(), levels.low, levels.high) - levels.low;
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
    } else if (straight && method != FramingMethod::mean) {
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

/// What a level takes at one spot, an area of 1.
struct Amount {
  double settled = 0.0, initial = 0.0, weight = 0.0, mass = 0.0, bags = 0.0;
  void add(const Amount& a, double part) {
    settled += part * a.settled;
    initial += part * a.initial;
    weight += part * a.weight;
    mass += part * a.mass;
    bags += part * a.bags;
  }
};

Amount amount_at(const BaseFloor& floor, const BaseSpot& spot, const NewFill& fill, double settled,
                 bool deduct) {
  Amount a;
  a.settled = settled;
  if (!(settled > 0)) return a;
  // The end of a chart may lie a last digit below the wedge's.
  const Length t =
      fill.chart ? std::min(inches(settled), fill.chart->last_settled()) : inches(settled);
  const Length below = std::min(t, std::max(Length{}, floor.framing.depth - spot.surface));
  const double filled = deduct ? 1.0 - floor.framing.fraction * (below / t) : 1.0;
  if (!fill.chart) {
    a.weight = fill.weight(t).value_or(MassPerArea{}).us();
    a.mass = a.weight * filled;
    return a;
  }
  const ChartPoint row = fill.chart->at(t);
  a.weight = row.weight.us();
  a.mass = a.weight * filled;
  a.bags = row.bags_per_ft2 * filled;
  return a;
}

/// Mean amount over the strip: a level that is not there takes nothing.
Amount mean_amount(const BaseFloor& floor, const NewFill& fill, const Levels& levels, bool deduct) {
  Amount mean;
  const double height = levels.high - levels.low;
  if (!(height > 0)) return mean;
  constexpr Node kMiddle[] = {{0.5, 1.0}};  // exact where an amount runs straight
  const std::vector<Run> runs = runs_of(fill);
  for (const BaseSpot& spot : floor.spots)
    smooth_stretches(
        floor, spot, runs, {lowest_at(spot, levels), levels.high}, [&](const Stretch& s) {
          const double share = spot.share * (1.0 - levels.bare) * s.length() / height;
          const bool straight = !fill.chart || !deduct || !s.above;
          for (const Node& node :
               straight ? std::span<const Node>(kMiddle) : std::span<const Node>(kFive)) {
            const double initial = s.from + node.x * s.length();
            Amount here = amount_at(floor, spot, fill, s.run.t(initial), deduct);
            here.initial = initial;
            mean.add(here, share * node.weight);
          }
        });
  return mean;
}

/// Share of the area that the strip takes, 0 without one.
double strip_share(const EaveStrip* strip, Length level) {
  return strip ? std::min(1.0, strip_width(*strip, level).us() * strip->share_per_inch) : 0.0;
}

}  // namespace

WedgeMeans wedge_means(const BaseFloor& floor, const NewFill& fill, const EaveStrip& strip,
                       Length level, bool chart_deducts_framing) {
  const Levels levels = levels_of(strip, level);
  const WedgeU wedge(floor, fill, strip.eave);
  WedgeMeans means;
  for (const BaseSpot& spot : floor.spots) {
    const USums u = wedge.at(spot, levels, true);
    means.bay += Transmittance::from_us(spot.share * u.bay);
    means.both += Transmittance::from_us(spot.share * u.both);
  }
  const Amount amount = mean_amount(floor, fill, levels, !fill.chart || !chart_deducts_framing);
  means.settled = inches(amount.settled);
  means.initial = inches(amount.initial);
  means.weight = MassPerArea::from_us(amount.weight);
  means.mass = MassPerArea::from_us(amount.mass);
  means.bags_per_ft2 = amount.bags;
  return means;
}

StripR strip_r(const BaseFloor& floor, const NewFill& fill, const EaveStrip* strip, Length level) {
  const FloorR field = floor_r(floor, fill, level);
  const double share = strip_share(strip, level);
  if (!(share > 0)) return {field.working, field.effective};
  const WedgeU wedge(floor, fill, strip->eave);
  const Levels levels = levels_of(*strip, level);
  USums mean;
  for (const BaseSpot& spot : floor.spots) {
    const USums u = wedge.at(spot, levels, true);
    mean.bay += spot.share * u.bay;
    mean.both += spot.share * u.both;
  }
  const Resistance ends = floor.ends.both();
  const double bay = (1.0 - share) / (field.working + ends).us() + share * mean.bay;
  const double both = (1.0 - share) / field.effective.us() + share * mean.both;
  return {std::max(Resistance{}, r_value(1.0 / bay) - ends), r_value(1.0 / both)};
}

/// Every spot's sums up to the last bend below the level that they are kept for.
struct StripScatter::Sums {
  struct Kept {
    SpotAfter found;
    double at = 0.0;  ///< initial thickness of that bend
    USums below;
  };
  WedgeU wedge;
  double highest = 0.0;  ///< of the levels that they are kept for
  std::vector<Kept> kept;

  Sums(const BaseFloor& floor, const NewFill& fill, const EaveStrip& strip, Length least)
      : wedge(floor, fill, strip.eave) {
    const Levels levels = levels_of(strip, least);
    highest = levels.high;
    kept.reserve(floor.spots.size());
    for (const BaseSpot& spot : floor.spots) {
      Kept k{wedge.as_found(spot), lowest_at(spot, levels), {}};
      USums sum;
      const BaseSpot arced = wedge.in_arc(spot);
      smooth_stretches(floor, spot, wedge.runs(), {k.at, highest}, [&](const Stretch& s) {
        k.at = s.from;
        k.below = sum;
        if (s.to < highest - spot.surface.us())
          wedge.add(sum, arced, s, true);  // the last one ends at no bend
      });
      kept.push_back(k);
    }
  }

  /// Of one spot up to the wedge's highest level.
  USums up_to(const BaseFloor& floor, std::size_t i, const Levels& levels, bool both) const {
    const BaseSpot& spot = floor.spots[i];
    const bool from_kept = levels.high >= highest;
    USums sum = from_kept ? kept[i].below : USums{};
    const BaseSpot arced = wedge.in_arc(spot);
    smooth_stretches(floor, spot, wedge.runs(),
                     {from_kept ? kept[i].at : lowest_at(spot, levels), levels.high},
                     [&](const Stretch& s) { wedge.add(sum, arced, s, both); });
    return WedgeU::mean(spot, kept[i].found, levels, sum);
  }
};

StripScatter::StripScatter(const BaseFloor& floor, const NewFill& fill, const EaveStrip* strip,
                           Length least)
    : floor_(floor),
      fill_(fill),
      strip_(strip),
      sums_(strip ? std::make_unique<Sums>(floor, fill, *strip, least) : nullptr) {}

StripScatter::~StripScatter() = default;

SpotScatter StripScatter::at(Basis basis, Length level) const {
  const double share = strip_share(strip_, level);
  if (!(share > 0)) return floor_scatter(floor_, fill_, basis, level);
  const Levels levels = levels_of(*strip_, level);
  const bool both = basis == Basis::effective;
  SpotScatter scatter;
  for (std::size_t i = 0; i < floor_.spots.size(); ++i) {
    const BaseSpot& spot = floor_.spots[i];
    const SpotAfter field = spot_after(floor_, spot, fill_, level);
    const USums u = sums_->up_to(floor_, i, levels, both);
    const double here = both ? field.both_u : 1.0 / field.bay_r, outside = both ? u.both : u.bay;
    scatter.add(spot.spot, spot.share, (1.0 - share) * here + share * outside);
  }
  return scatter;
}

SpotScatter strip_scatter(const BaseFloor& floor, const NewFill& fill, const EaveStrip* strip,
                          Basis basis, Length level) {
  return StripScatter(floor, fill, strip, level).at(basis, level);
}

}  // namespace overjoist
