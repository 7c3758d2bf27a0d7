// SPDX-License-Identifier: MIT
#include "overjoist/wedge.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <vector>

#include "sums/stretches.hpp"
#include "sums/wedge_u.hpp"

namespace overjoist {

Length strip_width(const EaveStrip& strip, Length level) {
  return level > Length{} ? std::min(strip.most, eave_distance(strip.eave, level)) : Length{};
}

Length strip_room(const EaveStrip& strip) {
  const Eave& e = strip.eave;
  return e.heel - e.vent_gap - e.baffle + strip.most * (e.rise_in_12 / 12.0);
}

namespace {

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
  const double height = levels.height();
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

CoveredScatter StripScatter::at(const LevelOf& at, bool each) const {
  const double share = strip_share(strip_, at.level);
  if (!(share > 0)) return floor_scatter(floor_, fill_, at, each);
  const Length level = at.level;
  const Levels levels = levels_of(*strip_, level);
  const bool both = at.basis == Basis::effective;
  CoveredScatter scatter(each);
  for (std::size_t i = 0; i < floor_.spots.size(); ++i) {
    const BaseSpot& spot = floor_.spots[i];
    const SpotAfter field = spot_after(floor_, spot, fill_, level);
    const USums u = sums_->up_to(floor_, i, levels, both);
    const double here = both ? field.both_u : 1.0 / field.bay_r, outside = both ? u.both : u.bay;
    scatter.add({spot.spot, spot.share, spot.bare}, (1.0 - share) * here + share * outside);
  }
  return scatter;
}

CoveredScatter strip_scatter(const BaseFloor& floor, const NewFill& fill, const EaveStrip* strip,
                             const LevelOf& at) {
  return StripScatter(floor, fill, strip, at.level).at(at);
}

}  // namespace overjoist
