// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "evaluate/blown.hpp"
#include "evaluate/eave.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/spread.hpp"
#include "evaluate/worked.hpp"

// Ranges of a section and of the attic (model 15). The central values are worked out before and
// stay what they are.
namespace overjoist::parts {
namespace {

enum class Side { low, high };

/// R per inch of one side of a material's range; the central one where the row has none.
Resistivity side_rho(const Material& m, Resistivity central, Side side) {
  if (m.resistance) return central;  // a sheet with a printed R
  return side == Side::low ? std::min(central, m.low.value_or(central))
                           : std::max(central, m.high.value_or(central));
}

/// The layers with every generic material at one side of its range; a label has none, unless its
/// batt is squeezed.
std::vector<BuiltLayer> side_layers(const std::vector<BuiltLayer>& layers, Side side) {
  std::vector<BuiltLayer> list = layers;
  for (BuiltLayer& layer : list) {
    layer.side = side == Side::low ? BattSide::low : BattSide::high;
    if (!layer.batt && !layer.labelled)
      layer.rho = side_rho(*layer.material, layer.rho, side);
    else if (layer.label_from_table)
      layer.label_r =
          side_rho(*layer.material, *layer.material->central(), side) * layer.label_thickness;
  }
  return list;
}

bool has_range(const Material& m, bool labelled) {
  return !labelled && !m.resistance && m.central() && (m.low || m.high) && m.low != m.high;
}

bool any_range(const BuiltSection& built) {
  for (std::size_t i = 0; i < built.layers.size(); ++i) {
    const BuiltLayer& l = built.layers[i];
    if (has_range(*l.material, l.labelled || (l.batt && !l.label_from_table))) return true;
    if (std::any_of(built.pieces.begin(), built.pieces.end(),
                    [&](const Piece& p) { return l.squeezed_at(p.column.thickness[i]); }))
      return true;
  }
  return false;
}

/// U of bays and of both paths.
struct TwoU {
  double bay = 0.0, both = 0.0;
};

TwoU found_u(const BuiltSection& built, const std::vector<BuiltLayer>& layers) {
  TwoU u;
  for (const Piece& p : built.pieces) {
    const SpotPaths paths =
        spot_paths(built.ends, built.framing, layers, p.column, built.under_deck);
    u.bay += p.share / paths.bay.us();
    u.both += p.share * spot_u(built.framing, paths).us();
  }
  return u;
}

/// What the readings and materials of a section say about its range.
struct RangeWork {
  const BuiltSection& built;
  double count = 0.0;          ///< effective number of readings
  double per_deviation = 0.0;  ///< half width for each unit of deviation
  bool ranged = false;
  std::vector<BuiltLayer> low, high;  ///< layers at either side; empty unless ranged
};

struct TwoUncertain {
  UncertainU bay, both;
};

void set_sides(TwoUncertain& u, const TwoU& worst, const TwoU& best) {
  u.bay.up = std::max(0.0, worst.bay - u.bay.u);
  u.bay.down = std::max(0.0, u.bay.u - best.bay);
  u.both.up = std::max(0.0, worst.both - u.both.u);
  u.both.down = std::max(0.0, u.both.u - best.both);
}

UncertainU uncertain(const SpotScatter& scatter, double count, double per_deviation) {
  return {scatter.mean(), per_deviation > 0 ? per_deviation * scatter.deviation(count) : 0.0, 0.0,
          0.0};
}

TwoUncertain found_range(const RangeWork& work, ExistingResult& r) {
  const BuiltSection& built = work.built;
  SpotScatter bay, both;
  for (const Piece& p : built.pieces) {
    bay.add(p.spot, p.share, 1.0 / p.paths.bay.us());
    both.add(p.spot, p.share, spot_u(built.framing, p.paths).us());
  }
  TwoUncertain u{uncertain(bay, work.count, work.per_deviation),
                 uncertain(both, work.count, work.per_deviation)};
  if (work.ranged) set_sides(u, found_u(built, work.low), found_u(built, work.high));
  if (work.count >= 2.0) {
    r.readings_needed = readings_for_five_percent(both.deviation(work.count) / both.mean());
    if (r.readings_needed)
      r.readings_more = std::max(0, *r.readings_needed - static_cast<int>(work.count));
  }
  return u;
}

/// The floor and the fill with every generic material at one side of its range.
struct SideFloor {
  BaseFloor floor;
  NewFill fill;
};

SideFloor side_floor(const RangeWork& work, const BaseFloor& floor, const Blow& blow, Side side) {
  SideFloor s{floor, blow.fill};
  if (!blow.fill.chart && blow.material) s.fill.rho = side_rho(*blow.material, blow.fill.rho, side);
  if (!work.ranged) return s;
  const BuiltSection& built = work.built;
  const std::vector<BuiltLayer>& layers = side == Side::low ? work.low : work.high;
  for (std::size_t i = 0; i < floor.spots.size(); ++i) {
    Column column = built.pieces[i].column;  // one spot of the floor for each piece
    for (std::size_t k = 0; k < column.count; ++k)
      if (layers[k].comes_out()) column.thickness[k] = Length{};
    const SpotPaths paths = spot_paths(built.ends, built.framing, layers, column, built.under_deck);
    s.floor.spots[i].bay = paths.bay;
    s.floor.spots[i].joist = paths.joist;
    s.floor.spots[i].planes = paths.planes;
    if (!s.floor.stacks.empty())
      s.floor.stacks[i] = bay_stack(built.framing, layers, column, built.under_deck);
  }
  return s;
}

/// A floor as it is, and at either side of what its materials leave open.
struct FloorSides {
  const SideFloor &middle, &low, &high;
};

/// A floor with both sides of its range.
struct RangedFloor {
  const BaseFloor& floor;
  const NewFill& fill;
  double count, per_deviation;
  StripScatter middle, low, high;  ///< with the eave, if any, in every U of the floor

  RangedFloor(const RangeWork& work, const FloorSides& sides, const EaveStrip* strip, Length least)
      : floor(sides.middle.floor),
        fill(sides.middle.fill),
        count(work.count),
        per_deviation(work.per_deviation),
        middle(sides.middle.floor, sides.middle.fill, strip, least),
        low(sides.low.floor, sides.low.fill, strip, least),
        high(sides.high.floor, sides.high.fill, strip, least) {}

  /// With the worse side alone, as the low end of R needs it.
  UncertainU at_worst(Basis basis, Length level) const {
    UncertainU u = uncertain(middle.at(basis, level), count, per_deviation);
    u.up = std::max(0.0, low.at(basis, level).mean() - u.u);
    return u;
  }

  UncertainU at(Basis basis, Length level) const {
    UncertainU u = at_worst(basis, level);
    u.down = std::max(0.0, u.u - high.at(basis, level).mean());
    return u;
  }
};

// Least level of the 1/4 in. grid, not below the one planned, at which even the low end of the
// range reaches the target: false position on the grid, then halving.
std::optional<Length> confident_level(const RangedFloor& ranged, const TopUp& t) {
  const Resistance ends = t.basis == Basis::working ? ranged.floor.ends.both() : Resistance{};
  const auto miss = [&](double step) {
    return resistance_range(ranged.at_worst(t.basis, inches(step * kLevelStep)), ends).low.us() -
           t.target_r.us();
  };
  constexpr double kSlack = -1e-9, kFar = 4000;  // steps
  const double planned =
      t.initial_level->us() / kLevelStep;  // not on the grid where the room cut it short
  if (miss(planned) >= kSlack) return t.initial_level;
  double lo = std::round(round_up(planned, 1.0)), at_lo = miss(lo);
  if (at_lo >= kSlack) return inches(lo * kLevelStep);
  double per_step =
      floor_r(ranged.floor, ranged.fill, *t.initial_level).slope_of(t.basis).us() * kLevelStep;
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

UncertainU top_up_range(TopUp& t, const RangedFloor& ranged, Length room) {
  const Length level = t.initial_level.value_or(Length{});
  const UncertainU both = ranged.at(Basis::effective, level),
                   bay = ranged.at(Basis::working, level);
  t.effective_r_range = resistance_range(both, Resistance{});
  t.working_r_range = resistance_range(bay, ranged.floor.ends.both());
  if (t.status != TopUpStatus::needed || !t.level_exact || ranged.count < 2.0) return both;
  const auto sure = confident_level(ranged, t);
  if (sure && reaches(room.us(), sure->us())) t.confident_level = sure;
  return both;
}

}  // namespace

namespace {

RangeWork range_work(const BuiltSection& built) {
  RangeWork work{built, effective_count(built.survey->readings), 0.0, any_range(built), {}, {}};
  work.per_deviation = half_width_per_deviation(work.count);
  if (work.ranged) {
    work.low = side_layers(built.layers, Side::low);
    work.high = side_layers(built.layers, Side::high);
  }
  return work;
}

/// A slope or wall after the work: the materials alone.
void cavity_ranges(SectionSpread& spread, WorkedSection& r, const BuiltSection& after) {
  ExistingResult unused;
  const TwoUncertain u = found_range(range_work(after), unused);
  for (const End end : {End::low, End::high}) {
    TopUp& t = r.planned[end];
    if (t.status == TopUpStatus::met) continue;
    t.effective_r_range = resistance_range(u.both, Resistance{});
    t.working_r_range = resistance_range(u.bay, after.ends.both() - r.found.cavity->continuous_r);
    spread.planned[end] = u.both;
  }
}

}  // namespace

SectionSpread section_ranges(WorkedSection& r, const BuiltSection& built, const BuiltSection* after,
                             const Blow& blow, Notes& notes) {
  SectionSpread spread;
  if (built.survey->insulation_r || built.survey->total_r)
    return spread;                      // an R that was told: nothing blurs it
  if (built.unmeasured) return spread;  // R is at least what is shown: no range, no verdict
  const RangeWork work = range_work(built);
  const bool known = work.count >= 2.0 || built.layers.empty();
  if (!known) notes.assume("unevenness-unknown", r.found.name);
  const TwoUncertain found = found_range(work, r.found.existing);
  r.found.existing.working_r_range = resistance_range(found.bay, built.ends.both());
  r.found.existing.effective_r_range = resistance_range(found.both, Resistance{});
  const auto& range = r.found.existing.range_of(r.planned.low.basis);
  r.found.existing.verdict = verdict_of(*range, r.planned.low.target_r, known);
  spread.existing = spread.planned.low = spread.planned.high = found.both;
  for (TopUp* t : {&r.planned.low, &r.planned.high}) {
    if (!is_cavity(r.found.kind) || (after && t->status != TopUpStatus::met)) continue;
    t->working_r_range = r.found.existing.working_r_range;  // nothing is done there
    t->effective_r_range = r.found.existing.effective_r_range;
  }
  if (after) cavity_ranges(spread, r, *after);
  if (!built.floor) return spread;
  const BaseFloor& floor = *built.floor;
  const auto strip = blow.method == Method::laid ? std::nullopt : strip_of(built);
  const SideFloor middle{floor, blow.fill};
  const SideFloor low = side_floor(work, floor, blow, Side::low);
  const SideFloor high = side_floor(work, floor, blow, Side::high);
  const Length least = std::min(r.planned.low.initial_level.value_or(Length{}),
                                r.planned.high.initial_level.value_or(Length{}));
  const RangedFloor ranged(work, {middle, low, high}, strip ? &*strip : nullptr, least);
  const Length room = level_room(built, floor, blow);
  const auto end_range = [&](TopUp& t) {
    if (t.batts.empty()) return top_up_range(t, ranged, room);
    const SideFloor laid{laid_floor(floor, blow, t, 0), blow.fill};
    const SideFloor laid_low{laid_floor(low.floor, blow, t, -1), blow.fill};
    const SideFloor laid_high{laid_floor(high.floor, blow, t, 1), blow.fill};
    return top_up_range(t, RangedFloor(work, {laid, laid_low, laid_high}, nullptr, Length{}), room);
  };
  spread.planned.low = end_range(r.planned.low);
  spread.planned.high = end_range(r.planned.high);
  return spread;
}

}  // namespace overjoist::parts
