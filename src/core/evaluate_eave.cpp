// SPDX-License-Identifier: MIT
#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "evaluate_parts.hpp"
#include "overjoist/diagnostics.hpp"
#include "overjoist/eaves.hpp"

// The wedge at the eave (method eq. 10a): every depth from the plate inwards is the floor blown to a lower level.
namespace overjoist::parts {
namespace {

/// Mean over the wedge of a function of the level that fits.
template <class F>
double wedge_mean(const Eave& eave, Length level, F value) {
  return wedge_u(eave, level, [&](Length room) { return Transmittance::from_us(value(room)); }).us();
}

}  // namespace

void apply_eave(TopUpResult& t, const BuiltSection& built, const BaseFloor& floor, const Blow& blow) {
  const EaveSurvey& given = *built.survey->eave;
  // Gap and baffle are square to the deck; upright they take more.
  const double upright = std::hypot(1.0, given.pitch_in_12 / 12.0);
  const Eave eave{given.heel, given.pitch_in_12, given.vent_gap.value_or(built.vent_gap) * upright,
                  given.baffle.value_or(Length{}) * upright};
  const Length level = *t.initial_level;
  EaveResult e;
  e.width = eave_distance(eave, level);
  if (!(e.width > Length{})) return;
  e.bare_width = eave_distance(eave, Length{});
  const Area area = built.survey->area;
  e.area = square_feet(e.width.us() / 12.0 * given.length.us() / 12.0);
  if (!reaches(area.us(), e.area.us()))
    throw Error(ErrorCode::contradiction, built.survey->name,
                fmt::format("the strip at the eaves, {:.0f} ft2, is larger than the section, {:.0f} ft2", e.area.us(), area.us()),
                "check length_ft, heel_in and pitch_in_12 of the eave");
  const double share = e.area / area;
  const Resistance ends = floor.ends.both();
  const auto bay_u = [&](Length room) { return 1.0 / (floor_r(floor, blow.fill, room).working + ends).us(); };
  const auto both_u = [&](Length room) { return 1.0 / floor_r(floor, blow.fill, room).effective.us(); };
  const double bay = wedge_mean(eave, level, bay_u), both = wedge_mean(eave, level, both_u);
  e.working_field = t.working_r;
  e.working_wedge = std::max(Resistance{}, r_value(1.0 / bay) - ends);
  e.u_bay_added = Transmittance::from_us(share * (bay - 1.0 / (t.working_r + ends).us()));
  e.u_added = Transmittance::from_us(share * (both - 1.0 / t.effective_r.us()));
  e.ua_added = e.u_added * area;
  t.working_r = std::max(Resistance{}, r_value(1.0 / (1.0 / (t.working_r + ends).us() + e.u_bay_added.us())) - ends);
  t.effective_r = r_value(1.0 / (1.0 / t.effective_r.us() + e.u_added.us()));
  if (t.level_exact && reaches(level.us(), t.level_exact->us())) {
    e.met_from = eave_distance(eave, *t.level_exact);
    e.share_short = *e.met_from / e.width * share;
  }
  const auto quantity = [&](Length room) { return fill_quantity(floor, blow.fill, room, area, blow.bag_net, blow.chart_deducts_framing); };
  if (t.added_mass) {
    const double wedge = wedge_mean(eave, level, [&](Length room) { return quantity(room).mass.value_or(Mass{}).us(); });
    t.added_mass = Mass::from_us((1.0 - share) * t.added_mass->us() + share * wedge);
  }
  if (t.bags_exact) {
    const double wedge = wedge_mean(eave, level, [&](Length room) { return quantity(room).bags.value_or(0.0); }) * (1.0 + blow.waste);
    e.bags_less = share * (*t.bags_exact - wedge);
    t.bags_exact = *t.bags_exact - *e.bags_less;
  }
  t.eave = e;
}

}  // namespace overjoist::parts
