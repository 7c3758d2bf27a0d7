// SPDX-License-Identifier: MIT
#include "overjoist/ventilation.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "overjoist/diagnostics.hpp"
#include "overjoist/ends.hpp"

namespace overjoist {
namespace {

void need_from_zero(double value, const char* what) {
  if (!(value >= 0 && std::isfinite(value)))
    throw Error(ErrorCode::out_of_range, what,
                fmt::format("{} {:g} is not allowed; allowed: 0 or more", what, value),
                "measure it again");
}
void need_above_zero(double value, const char* what) {
  if (!(value > 0 && std::isfinite(value)))
    throw Error(ErrorCode::out_of_range, what,
                fmt::format("{} {:g} is not allowed; allowed: above 0", what, value),
                "measure it again");
}
/// A ratio rounded up to a whole count; the cap keeps it an int and no attic comes near it.
int whole_count(double ratio, const char* what) {
  constexpr double kMost = 1e6;
  if (!(ratio <= kMost))
    throw Error(ErrorCode::out_of_range, what, fmt::format("{} gives more than {:g}", what, kMost),
                "check the unit");
  return static_cast<int>(round_up(ratio, 1.0));
}

bool covers(Area have, Area need) { return reaches(have.us(), need.us()); }
Area lack(Area have, Area need) { return covers(have, need) ? Area{} : need - have; }

/// Shares of the required area that upper vents must give, and up to which they count.
struct Split {
  double low = 0.0, high = 0.0;
};

/// What lacks for the reduced ratio: upper vents first up to their least share, then the rest low.
void fill_split(VentNeed& need, Area high, Area low, Split split) {
  const Area required = need.required_reduced;
  need.missing_high = lack(high, required * split.low);
  const Area counted = std::min(high + need.missing_high, required * split.high);
  need.missing_low = lack(counted + low, required);
  need.balanced = need.missing_high == Area{} && need.missing_low == Area{};
}

/// From the retarder's zone on the reduced ratio also needs the retarder; without the zone only a
/// retarder is proof.
VentVerdict reduced_verdict(VentNeed& need, const Vents& vents, double retarder_zone) {
  if (vents.retarder.value_or(false)) return VentVerdict::meets;
  if (vents.zone && *vents.zone < retarder_zone) return VentVerdict::meets;
  need.need_zone = !vents.zone;
  need.need_retarder = !vents.retarder;
  if (need.need_zone || need.need_retarder) return VentVerdict::unknown;
  need.retarder_missing = true;
  return VentVerdict::short_of;
}

/// Both sides together, of what was entered.
Area entered(const Vents& vents) {
  Area sum;
  for (const std::optional<Area>* side : each(vents)) sum += side->value_or(Area{});
  return sum;
}

/// One side or both were not entered: only what is known can be enough, and only at the full ratio.
VentNeed half_known(VentNeed need, const Vents& vents) {
  const bool enough = covers(entered(vents), need.required);
  need.verdict = enough ? VentVerdict::meets : VentVerdict::unknown;
  need.need_high = !enough && !vents.high;
  need.need_low = !enough && !vents.low;
  return need;
}

}  // namespace

VentNeed vent_need(const Vents& vents, const Tables& tables) {
  need_above_zero(vents.attic.us(), "attic area");
  need_from_zero(vents.high.value_or(Area{}).us(), "high vents");
  need_from_zero(vents.low.value_or(Area{}).us(), "low vents");
  VentNeed need;
  need.required = vents.attic / tables.figure("vent-ratio");
  need.required_reduced = vents.attic / tables.figure("vent-ratio-reduced");
  const double retarder_zone = tables.figure("vent-retarder-zone");
  if (vents.zone) need.reduced_asks_retarder = *vents.zone >= retarder_zone;
  if (!both(vents, kKnown)) return half_known(need, vents);
  need.present = entered(vents);
  need.missing_any = lack(*need.present, need.required);
  fill_split(need, *vents.high, *vents.low,
             {tables.figure("vent-upper-low") / 100, tables.figure("vent-upper-high") / 100});
  if (covers(*need.present, need.required)) {
    need.verdict = VentVerdict::meets;
    need.missing_high = need.missing_low = Area{};
  } else if (need.balanced) {
    need.verdict = reduced_verdict(need, vents, retarder_zone);
    need.reduced = need.verdict == VentVerdict::meets;
  } else {
    need.verdict = VentVerdict::short_of;
  }
  return need;
}

int baffle_count(Length vented_eave, Length spacing) {
  need_from_zero(vented_eave.us(), "vented eave");
  need_above_zero(spacing.us(), "rafter spacing");
  return whole_count(vented_eave / spacing, "vented eave");
}

int marker_count(Area blown, const Tables& tables) {
  need_from_zero(blown.us(), "area");
  return std::max(1, whole_count(blown.us() / tables.figure("marker-area"), "area"));
}

double weatherstrip_ft(const Lid& lid, double waste) {
  need_from_zero(lid.length.us(), "lid length");
  need_from_zero(lid.width.us(), "lid width");
  need_from_zero(waste, "waste");
  return 2 * (lid.length.us() + lid.width.us()) / 12 * (1 + waste);
}

JobCounts job_counts(const JobFacts& facts, const Tables& tables) {
  need_from_zero(facts.level.us(), "level");
  need_from_zero(facts.vented_eave.us(), "vented eave");
  for (const int n :
       {facts.flues, facts.equipment, facts.edges, facts.non_ic_lights, facts.buried_boxes})
    need_from_zero(n, "count");
  JobCounts counts;
  if (facts.vented_eave == Length{})
    counts.baffles = 0;
  else if (facts.rafter_spacing)
    counts.baffles = baffle_count(facts.vented_eave, *facts.rafter_spacing);
  const int markers = marker_count(facts.blown, tables);
  counts.markers = facts.blown > Area{} ? markers : 0;
  counts.flue_dams = facts.flues;
  counts.dams = static_cast<int>(facts.lids.size()) + facts.flues + facts.equipment + facts.edges;
  counts.light_covers = facts.non_ic_lights;
  counts.flags = facts.buried_boxes;
  counts.dam_height = facts.level;
  counts.flue_dam_height = facts.level + inches(tables.figure("dam-flue-margin"));
  const double waste = tables.figure("weatherstrip-waste") / 100;
  for (const Lid& lid : facts.lids) {
    counts.weatherstrip_ft += weatherstrip_ft(lid, waste);
    counts.lid_board += square_feet(lid.length.us() * lid.width.us() / 144);
  }
  return counts;
}

}  // namespace overjoist
