// SPDX-License-Identifier: MIT
#include "evaluate/floor_spread.hpp"

#include <algorithm>
#include <cmath>

namespace overjoist::parts {

CoveredFloor covered_floor(const BaseFloor& floor) {
  CoveredFloor c;
  double share = 0.0, r = 0.0;
  for (const BaseSpot& spot : floor.spots) {
    if (spot.bare) continue;
    const SpotAfter found = spot_after(floor, spot, NewFill{}, Length{});
    share += spot.share;
    c.u.bay += spot.share / found.bay_r;
    c.u.both += spot.share * found.both_u;
    c.surface += spot.surface * spot.share;
    r += spot.share * (spot.bay - floor.ends.both()).us();
  }
  if (!(share > 0)) return c;
  if (c.surface > Length{}) c.r_per_inch = std::max(0.0, r / c.surface.us());
  c.u = {c.u.bay / share, c.u.both / share};
  c.surface = c.surface / share;
  return c;
}

RangedFloor::RangedFloor(const FloorEvidence& found, const FloorSides& sides,
                         const EaveStrip* strip, Length least)
    : found_(found),
      sides_(sides),
      middle_(sides.middle.floor, sides.middle.fill, strip, least),
      low_(sides.low.floor, sides.low.fill, strip, least),
      high_(sides.high.floor, sides.high.fill, strip, least) {
  if (sides.printed) printed_.emplace(sides.printed->floor, sides.printed->fill, strip, least);
}

// The prior's variation is one of depth. New fill that is leveled off gives back what the old one
// lacks, and R goes by their difference per inch; goods of one thickness leave the old variation in
// a greater R.
double RangedFloor::scale(const CoveredScatter& scatter, const LevelOf& at) const {
  const CoveredFloor& c = found_.covered;
  if (!(c.r_per_inch > 0)) return 0.0;
  const double thinner = scatter.covered().mean() / c.u.of(at.basis);
  if (!(at.level > c.surface)) return thinner;
  const NewFill& fill = sides_.middle.fill;
  const Length thick = at.level - c.surface;
  const double gain = fill.r_slope(fill.settled(thick)).us() * fill.settled_slope(thick);
  return thinner * std::fabs(1.0 - gain / c.r_per_inch);
}

ReadU RangedFloor::read(const CoveredScatter& scatter, const LevelOf& at) const {
  const double most = found_.bare.of(at.basis);
  // Goods of one thickness lie on the bare part too.
  const bool as_found = !(at.level > Length{}) && reaches(scatter.bare_u(), most);
  if (as_found) return found_.evidence.of(scatter, {most});
  return found_.evidence.of(scatter, {most, true, scale(scatter, at)});
}

SpreadU RangedFloor::at(const LevelOf& at) const {
  const bool each = found_.evidence.by_each();
  const ReadU u = read(middle_.at(at, each), at);
  return {u, std::max(0.0, low_.at(at).mean() - u.u), std::max(0.0, u.u - high_.at(at).mean()),
          found_.bare.of(at.basis)};
}

SpreadU RangedFloor::printed(const LevelOf& at, SpreadU whole) const {
  if (printed_) whole.up = std::max(0.0, printed_->at(at).mean() - whole.read.u);
  return whole;
}

Resistance RangedFloor::low_r(const LevelOf& at) const {
  const ReadU u = read(middle_.at(at, found_.evidence.by_each()), at);
  const SpreadU worst{u, std::max(0.0, low_.at(at).mean() - u.u), 0.0, found_.bare.of(at.basis)};
  const Resistance ends =
      at.basis == Basis::working ? sides_.middle.floor.ends.both() : Resistance{};
  return resistance_range(worst.whole(), ends).low;
}

std::optional<MassPerArea> RangedFloor::greatest_weight(Length level) const {
  const auto& [floor, fill] = sides_.middle;
  MassPerArea greatest;
  for (const BaseSpot& spot : floor.spots) {
    if (!(spot.share > 0)) continue;
    const auto fresh = fill.weight(new_settled(spot, fill, level));
    if (!fresh) return {};
    greatest = std::max(greatest, spot.weight + *fresh);
  }
  return greatest;
}

namespace {

// Least level of the 1/4 in. grid, not below the one planned, at which even the low end of the
// range reaches the target: false position on the grid, then halving.
std::optional<Length> confident_level(const RangedFloor& ranged, const TopUp& t) {
  const auto miss = [&](double step) {
    return ranged.low_r({t.basis, inches(step * kLevelStep)}).us() - t.target_r.us();
  };
  constexpr double kSlack = -1e-9, kFar = 4000;  // steps
  const double planned =
      t.initial_level->us() / kLevelStep;  // not on the grid where the room cut it short
  if (miss(planned) >= kSlack) return t.initial_level;
  double lo = std::round(round_up(planned, 1.0)), at_lo = miss(lo);
  if (at_lo >= kSlack) return inches(lo * kLevelStep);
  const auto& [floor, fill] = ranged.middle();
  double per_step = floor_r(floor, fill, *t.initial_level).slope_of(t.basis).us() * kLevelStep;
  double hi = 0.0;
  while (hi == 0.0) {
    const double x = lo + std::max(1.0, std::ceil(-at_lo / per_step));
    if (!(x < kFar)) return {};
    const double m = miss(x);
    if (m >= kSlack) {
      hi = x;
    } else {
      per_step = (m - at_lo) / (x - lo);
      if (!(per_step > 0)) return {};
      lo = x;
      at_lo = m;
    }
  }
  while (hi - lo > 1.0) {
    const double x = std::floor((lo + hi) / 2);
    (miss(x) >= kSlack ? hi : lo) = x;
  }
  return inches(hi * kLevelStep);
}

}  // namespace

SpreadU top_up_range(TopUp& t, const RangedFloor& ranged, Length room) {
  const Length level = t.initial_level.value_or(Length{});
  const LevelOf in_all{Basis::effective, level}, alone{Basis::working, level};
  const SpreadU both = ranged.at(in_all), bay = ranged.at(alone);
  const Resistance ends = ranged.middle().floor.ends.both();
  t.effective_r_range = resistance_range(both.whole(), Resistance{});
  t.working_r_range = resistance_range(bay.whole(), ends);
  t.effective_r_printed = resistance_range(ranged.printed(in_all, both).whole(), Resistance{});
  t.working_r_printed = resistance_range(ranged.printed(alone, bay).whole(), ends);
  if (t.status != TopUpStatus::needed || !t.level_exact || !ranged.known()) return both;
  const auto sure = confident_level(ranged, t);
  if (!sure || !reaches(room.us(), sure->us())) return both;
  t.confident_level = sure;
  const auto weight = ranged.greatest_weight(*sure);
  t.confident_too_heavy = weight && t.weight_limit && !reaches(t.weight_limit->us(), weight->us());
  return both;
}

}  // namespace overjoist::parts
