// SPDX-License-Identifier: MIT
#include "evaluate/spread.hpp"

#include <algorithm>
#include <cmath>

#include "evaluate/blown.hpp"
#include "evaluate/eave.hpp"
#include "evaluate/evidence.hpp"
#include "evaluate/floor.hpp"
#include "evaluate/floor_spread.hpp"
#include "evaluate/laid.hpp"
#include "evaluate/offer.hpp"
#include "evaluate/sides.hpp"
#include "evaluate/worked.hpp"

// Ranges of a section (method eq. 15, 15b). The central values are worked out before and stay what
// they are.
namespace overjoist::parts {
namespace {

struct TwoSpreads {
  SpreadU bay, both;
};

/// Both scatters of the pieces as they lie.
struct TwoScatters {
  CoveredScatter bay, both;
};

TwoScatters scatters_of(const BuiltSection& built, const Evidence& evidence, const TwoUs& bare) {
  TwoScatters s{CoveredScatter(evidence.by_each()), CoveredScatter(evidence.by_each())};
  for (const Piece& p : built.pieces) {
    s.bay.add({p.spot, p.share, p.bare}, 1.0 / p.paths.bay.us());
    s.both.add({p.spot, p.share, p.bare}, spot_u(built.framing, p.paths).us());
  }
  s.bay.add({built.spots.size(), 0.0, true}, bare.bay);
  s.both.add({built.spots.size(), 0.0, true}, bare.both);
  return s;
}

/// With what the materials leave open, to the U of either side.
SpreadU blurred(const ReadU& read, double most, double worst, double best) {
  return {read, std::max(0.0, worst - read.u), std::max(0.0, read.u - best), most};
}

TwoSpreads found_spread(const BuiltSection& built, const Evidence& evidence,
                        const TwoScatters& scatters) {
  const TwoUs bare = bare_u(built);
  const ReadU bay = evidence.of(scatters.bay, {bare.bay}),
              both = evidence.of(scatters.both, {bare.both});
  const LayerSides sides = layer_sides(built, evidence.prior());
  if (!sides.ranged)
    return {blurred(bay, bare.bay, bay.u, bay.u), blurred(both, bare.both, both.u, both.u)};
  const TwoUs worst = mean_u(built, sides.low), best = mean_u(built, sides.high);
  return {blurred(bay, bare.bay, worst.bay, best.bay),
          blurred(both, bare.both, worst.both, best.both)};
}

/// Readings that would tell U within 5 %, and whether the bare area has to be measured before:
/// where what is not known of it moves U by more than that.
void add_advice(ExistingResult& r, const BuiltSection& built, const Evidence& evidence,
                const CoveredScatter& scatter) {
  constexpr double kWithin = 0.05;
  const double count = evidence.covered();
  if (!(count > 0)) {
    if (built.survey->readings.size() < 2) return;
    r.readings_needed = 2;
    r.readings_more = 0;
    return;
  }
  const SpotScatter& covered = scatter.covered();
  if (evidence.bare_by_prior()) {
    RangePrior share_alone = evidence.prior();
    share_alone.variation = 0.0;
    const SampledBare found{{covered.mean(), 0.0, count}, evidence.bare(), scatter.bare_u()};
    const ReadU u = filled_bare(found, scatter.bare_u(), share_alone);
    r.measure_bare = u.high > (1.0 + kWithin) * u.u || u.low < (1.0 - kWithin) * u.u;
  }
  if (count < 2.0) return;
  r.readings_needed = readings_for_five_percent(covered.deviation(count) / covered.mean());
  if (r.readings_needed)
    r.readings_more = std::max(0, *r.readings_needed - static_cast<int>(count));
}

/// A slope or wall after the work: the materials alone.
void cavity_ranges(SectionSpread& spread, WorkedSection& r, const BuiltSection& after,
                   const RangePrior& prior) {
  const Evidence none(after, prior);
  const TwoScatters scatters = scatters_of(after, none, bare_u(after));
  const TwoSpreads u = found_spread(after, none, scatters);
  RangePrior as_printed = prior;
  as_printed.label_below = 0.0;
  const TwoSpreads printed =
      any_new_label(after) ? found_spread(after, Evidence(after, as_printed), scatters) : u;
  const Resistance ends = after.ends.both() - r.found.cavity->continuous_r;
  for (const End end : {End::low, End::high}) {
    TopUp& t = r.planned[end];
    if (t.status == TopUpStatus::met) continue;
    t.effective_r_range = resistance_range(u.both.whole(), Resistance{});
    t.working_r_range = resistance_range(u.bay.whole(), ends);
    t.effective_r_printed = resistance_range(printed.both.whole(), Resistance{});
    t.working_r_printed = resistance_range(printed.bay.whole(), ends);
    spread.planned[end] = u.both;
  }
}

SpreadU sure_of(Resistance r) {
  const double u = 1.0 / r.us();
  return {{u, u, u}, 0.0, 0.0, u};
}

void floor_ranges(SectionSpread& spread, WorkedSection& r, const BuiltSection& built,
                  const Evidence& evidence, const Blow& blow) {
  const BaseFloor& floor = *built.floor;
  const auto strip = blow.method == Method::laid ? std::nullopt : strip_of(built);
  const FloorSides sides =
      floor_sides(built, layer_sides(built, evidence.prior()), blow, evidence.prior());
  const Length least = std::min(r.planned.low.initial_level.value_or(Length{}),
                                r.planned.high.initial_level.value_or(Length{}));
  const TwoUs bare = bare_u(built);
  const FloorEvidence found{evidence, bare, covered_floor(sides.middle.floor)};
  const RangedFloor ranged(found, sides, strip ? &*strip : nullptr, least);
  const Length room = level_room(built, floor, blow);
  for (const End end : {End::low, End::high}) {
    TopUp& t = r.planned[end];
    if (t.batts.empty()) {
      spread.planned[end] = top_up_range(t, ranged, room);
      continue;
    }
    const auto on = [&](const SideFloor& side, LaidSide which) {
      return SideFloor{laid_floor(side.floor, blow, t, which), blow.fill};
    };
    const FloorSides laid{on(sides.middle, LaidSide::middle), on(sides.low, LaidSide::low),
                          on(sides.high, LaidSide::high), on(sides.low, LaidSide::printed)};
    spread.planned[end] = top_up_range(t, RangedFloor(found, laid, nullptr, Length{}), room);
  }
}

}  // namespace

SectionSpread section_ranges(WorkedSection& r, const BuiltSection& built, const BuiltSection* after,
                             const SpreadWork& work) {
  SectionSpread spread;
  spread.existing = sure_of(r.found.existing.effective_r);
  for (const End end : {End::low, End::high})
    spread.planned[end] = sure_of(r.planned[end].effective_r);
  if (built.survey->insulation_r || built.survey->total_r)
    return spread;                      // an R that was told: nothing blurs it
  if (built.unmeasured) return spread;  // R is at least what is shown: no range, no verdict
  const Evidence evidence(built, work.prior);
  if (!evidence.known()) work.notes.assume("unevenness-unknown", r.found.name);
  const TwoScatters scatters = scatters_of(built, evidence, bare_u(built));
  const TwoSpreads found = found_spread(built, evidence, scatters);
  ExistingResult& now = r.found.existing;
  add_advice(now, built, evidence, scatters.both);
  if (evidence.bare_by_prior()) work.notes.assume("bare-not-measured", r.found.name);
  now.working_r_range = resistance_range(found.bay.whole(), built.ends.both());
  now.effective_r_range = resistance_range(found.both.whole(), Resistance{});
  const auto& range = now.range_of(r.planned.low.basis);
  now.verdict = verdict_of(*range, r.planned.low.target_r, evidence.known());
  spread.existing = spread.planned.low = spread.planned.high = found.both;
  for (TopUp* t : {&r.planned.low, &r.planned.high}) {
    if (!is_cavity(r.found.kind) || (after && t->status != TopUpStatus::met)) continue;
    t->working_r_range = now.working_r_range;  // nothing is done there
    t->effective_r_range = now.effective_r_range;
    t->working_r_printed = t->working_r_range;
    t->effective_r_printed = t->effective_r_range;
  }
  if (after) cavity_ranges(spread, r, *after, work.prior);
  if (built.floor) floor_ranges(spread, r, built, evidence, work.blow);
  return spread;
}

}  // namespace overjoist::parts
